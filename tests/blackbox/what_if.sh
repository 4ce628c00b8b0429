# What-ifs and cases side by side: each equals the case edited by hand and weighed alone, to the byte.
. "$(dirname "$0")/lib.sh"

example=$project/examples/stock-scanner.toml
mkdir "$work/base" "$work/edited"
cp "$example" "$work/base/case.toml"

quote=(--shop "$project/examples/shop.toml" --page shop --date 2026-03-01 --despite-owner-loss)
# compare COMMAND NAME EDIT: the answer beside the case, and that to the case edited with sed and without what-ifs.
compare() {
  sed '/^\[\[what_if\]\]/,/^# Headings/d' "$work/base/case.toml" | sed "$3" >"$work/edited/case.toml"
  local words=("$1" case.toml --futures 300 --format json)
  [ "$1" = quote ] && words+=("${quote[@]}")
  (cd "$work/base" && "$program" "${words[@]}" >"$work/all.json" 2>"$work/err") || fail "$1: the case"
  (cd "$work/edited" && "$program" "${words[@]}" >"$work/alone.json" 2>"$work/err") || fail "$1: $2"
  expect "$1: '$2' is the edited case, to the byte" python3 - "$work/all.json" "$work/alone.json" "$2" <<'PY'
import json, sys
both = json.load(open(sys.argv[1]))
alone = json.load(open(sys.argv[2]))
answer = [b["answer"] for b in both["beside"] if b["name"] == sys.argv[3]]
sys.exit(len(answer) != 1 or json.dumps(answer[0]) != json.dumps(alone))
PY
}
for command in weigh buy quote; do
  compare $command "new ones at half the price" 's/^price = 165/price = 82.5/'
  compare $command "a slower hand, a dearer hour" 's/^visit_minutes = 25/visit_minutes = 40/;s/^rate_per_hour = 34/rate_per_hour = 48/'
  compare $command "a hundred other devices" 's/^other_uses_per_year = 3/other_uses_per_year = 40/'
done

run 0 weigh "$example" --futures 300 --show what-if
says 'as it is'
says 'new ones at'
says '* otherwise than'
says 'replacement.price: 165 -> 82.5'
says 'labour.visit_minutes: 25 -> 40'
run 0 weigh "$example" --futures 300 --table what-if
says 'case,verdict'
expect 'no stars for programs' sh -c '! grep -q "\*" "$1"' - "$work/out"
run 0 weigh "$example" --futures 300 --format html
says 'new ones at half the price'
run 0 buy "$example" --futures 300 --show what-if
says 'a hundred other devices'

run 0 quote "$example" --futures 300 "${quote[@]}" --show what-if
says 'a slower'
run 0 quote "$example" --futures 300 "${quote[@]:0:2}" --date 2026-03-01 --despite-owner-loss
expect 'nothing of what-ifs on the customer page' sh -c '! grep -q "half the price" "$1"' - "$work/out"

# Several files, and what-ifs of the second one too.
run 0 weigh "$project/examples/label-printer.toml" "$example" --futures 300 --show what-if
says 'stock-scanner.toml: a hundred'
(cd "$work/edited" && "$program" weigh case.toml --futures 300 --format json >"$work/alone.json")
cp "$project/examples/label-printer.toml" "$work/edited/first.toml"
(cd "$work/edited" && "$program" weigh first.toml case.toml --futures 300 --format json >"$work/all.json")
expect 'the second file is as it is alone' python3 - "$work/all.json" "$work/alone.json" <<'PY'
import json, sys
both = json.load(open(sys.argv[1]))
sys.exit(json.dumps(both["beside"][0]["answer"]) != json.dumps(json.load(open(sys.argv[2]))))
PY
sed 's/"EUR"/"CHF"/' "$project/examples/label-printer.toml" >"$work/other.toml"
run 2 weigh "$example" "$work/other.toml" --futures 300
complains 'one currency'

# Curves: each point is the case edited by hand.
run 0 weigh "$example" --futures 300 --vary replacement.price=60:180:4 --format json
cp "$work/out" "$work/curve.json"
says '"from": 60,'
expect "a whole number has no point" python3 - "$work/curve.json" <<'PY'
import json, sys
curve = json.load(open(sys.argv[1]))
values = [x for p in curve["points"] for x in p["at"]] + [x for b in curve["breaks"] for x in (b["low"], b["high"])]
sys.exit(any(isinstance(x, float) and x == int(x) for x in values) or not any(isinstance(x, int) for x in values))
PY
for price in 60 90 180; do
  "$program" weigh "$example" --futures 300 --set replacement.price=$price --format json >"$work/alone.json"
  expect "the curve at $price is the case at $price" python3 - "$work/curve.json" "$work/alone.json" $price <<'PY'
import json, sys
curve, alone, price = json.load(open(sys.argv[1])), json.load(open(sys.argv[2])), float(sys.argv[3])
point = next(p for p in curve["points"] if p["at"] == [price])
best = next(o for o in alone["options"] if o["name"] == alone["verdict"]["best"])
v = alone["verdict"]
sys.exit((point["value"], point["value_error"], point["money_now"]) != (v["saving_amount"], v["saving_error_amount"], best["cash_now_cost"]))
PY
done
run 0 weigh "$example" --futures 300 --vary replacement.price=60:180:4
says 'Where it breaks'
slow=(--set labour.visit_minutes=40 --set labour.rate_per_hour=48)
run 0 weigh "$example" --futures 300 "${slow[@]}" --vary replacement.price=60:300:2 --table breaks
says 'the verdict turns: replace before, repair from here on'
run 0 buy "$example" --futures 300 --vary part.other_uses_per_year=0:60:3 --table breaks
says 'price break'
run 0 bulk "$project/examples/keypad-fleet.toml" --vary bulk.failed=1:7:2 --table curve
says 'bulk.failed,best'
run 0 weigh "$example" --futures 300 --vary replacement.price=60:180:2 --vary device.age_years=2:6:1 --table grid
expect 'a grid of three rows' test "$(wc -l <"$work/out")" -eq 4
run 3 weigh "$example" --futures 300 --vary replacement.prise=60:180:2
complains "did you mean 'price'?"
run 2 weigh "$example" --vary replacement.price=180:60:2
complains 'KEY=FROM:TO:STEPS'

# bad WHAT LINE MESSAGE: what a what-if says wrongly is told at its line.
bad() {
  { cat "$project/examples/label-printer.toml"; printf '\n[[what_if]]\nname = "x"\n%s\n' "$1"; } >"$work/bad.toml"
  local line
  line=$(wc -l <"$work/bad.toml")
  run 3 check "$work/bad.toml"
  complains "bad.toml:$line:"
  complains "$2"
}
bad 'replacement.prise = 3' "did you mean 'price'?"
bad 'labour.rate_per_hour = -3' 'what_if.1.labour.rate_per_hour'
bad 'labour.rate_per_hour = "x -2"' 'what_if.1.labour.rate_per_hour'
bad 'labour.rate_per_hour = "+10"' 'no change of a number'
bad 'supplier.2.shipping = 3' 'there is no supplier 2'
bad 'position.1.count = "x 1.1"' 'what_if.1.position.1.count'
{ cat "$project/examples/label-printer.toml"; printf '\n[[what_if]]\nname = "x"\n'; } >"$work/bad.toml"
run 3 check "$work/bad.toml"
complains 'it changes nothing'
{ cat "$project/examples/label-printer.toml"; printf '\n[[whatif]]\nname = "x"\n'; } >"$work/bad.toml"
run 3 check "$work/bad.toml"
complains "did you mean 'what_if'?"
finish
