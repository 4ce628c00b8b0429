# What-ifs and cases side by side: each equals the case edited by hand and weighed alone, to the byte.
. "$(dirname "$0")/lib.sh"

example=$project/examples/stock-scanner.toml
mkdir "$work/base" "$work/edited"
cp "$example" "$work/base/case.toml"

# compare COMMAND NAME EDIT: the answer beside the case, and that to the case edited with sed and without what-ifs.
compare() {
  sed '/^\[\[what_if\]\]/,/^# Headings/d' "$work/base/case.toml" | sed "$3" >"$work/edited/case.toml"
  (cd "$work/base" && "$program" "$1" case.toml --futures 300 --format json >"$work/all.json") || fail "$1: the case"
  (cd "$work/edited" && "$program" "$1" case.toml --futures 300 --format json >"$work/alone.json") || fail "$1: $2"
  expect "$1: '$2' is the edited case, to the byte" python3 - "$work/all.json" "$work/alone.json" "$2" <<'PY'
import json, sys
both = json.load(open(sys.argv[1]))
alone = open(sys.argv[2]).read()
answer = [b["answer"] for b in both["beside"] if b["name"] == sys.argv[3]]
sys.exit(len(answer) != 1 or json.dumps(answer[0], indent=2, ensure_ascii=False) + "\n" != alone)
PY
}
for command in weigh buy; do
  compare $command "new ones at half the price" 's/^price = 165/price = 82.5/'
  compare $command "a slower hand, a dearer hour" 's/^visit_minutes = 25/visit_minutes = 40/;s/^rate_per_hour = 34/rate_per_hour = 48/'
  compare $command "a hundred other devices" 's/^other_uses_per_year = 3/other_uses_per_year = 40/'
done

run 0 weigh "$example" --futures 300 --show what-if
says 'as it is'
says 'new ones at half the price'
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

# Several files, and what-ifs of the second one too.
run 0 weigh "$project/examples/label-printer.toml" "$example" --futures 300 --show what-if
says 'label-printer.toml'
says 'stock-scanner.toml: a hundred'
(cd "$work/edited" && "$program" weigh case.toml --futures 300 --format json >"$work/alone.json")
cp "$project/examples/label-printer.toml" "$work/edited/first.toml"
(cd "$work/edited" && "$program" weigh first.toml case.toml --futures 300 --format json >"$work/all.json")
expect 'the second file is as it is alone' python3 - "$work/all.json" "$work/alone.json" <<'PY'
import json, sys
both = json.load(open(sys.argv[1]))
sys.exit(json.dumps(both["beside"][0]["answer"], indent=2, ensure_ascii=False) + "\n" != open(sys.argv[2]).read())
PY
sed 's/"EUR"/"CHF"/' "$project/examples/label-printer.toml" >"$work/other.toml"
run 2 weigh "$example" "$work/other.toml" --futures 300
complains 'one currency'

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
