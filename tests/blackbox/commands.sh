# Help, version, starter cases, rates, schema, wrong use.
. "$(dirname "$0")/lib.sh"

run 0 --version
expect "the version is one line" test "$(wc -l <"$work/out")" -eq 1
run 0 --help
expect "help begins with examples" test "$(head -1 "$work/out")" = "Examples:"
expect "help ends with the exit codes" grep -q "71 out of memory" <(tail -1 "$work/out")
for command in ask weigh buy bulk quote check new rates lifetime drawer schema; do
  run 0 "$command" --help
  expect "no line of the help of $command is wider than 80" awk 'length > 80 { exit 1 }' "$work/out"
  run 0 --help
  says "$command"
done

run 0 new
cp "$work/out" "$work/case.toml"
expect "the starter case fits a screen" test "$(wc -l <"$work/case.toml")" -lt 60
run 0 check "$work/case.toml"
says "$work/case.toml: ok"
run 0 new --every-key
cp "$work/out" "$work/full.toml"
run 0 check "$work/full.toml" "$work/case.toml"
expect "one line each" test "$(wc -l <"$work/out")" -eq 2
run 0 new "$work/fresh.toml"
silent
run 4 new "$work/fresh.toml"
complains "exists already"
run 0 weigh "$work/case.toml" --futures 500
cp "$work/out" "$work/by-name"
"$program" weigh - --futures 500 <"$work/case.toml" >"$work/by-stdin"
expect "standard input gives the same answer" cmp -s "$work/by-name" "$work/by-stdin"
expect "no line is wider than 80" awk 'length > 80 { exit 1 }' "$work/by-name"

run 0 weigh "$work/full.toml" --futures 500
run 0 rates
says "tactile-switch"
run 0 rates --format json
says '"schema": "mendworth.rates"'
run 0 schema
says '"mendworth.weighing"'
for command in weigh ask buy bulk lifetime drawer quote quote-at-cost rates check; do
  run 0 schema "$command"
  says '"schema"'
done
run 2 schema weighing
run 0 help
says "mendworth ask"
for command in ask weigh buy bulk quote check new rates lifetime drawer schema; do
  run 0 help "$command"
  says "mendworth $command [OPTIONS]"
  mv "$work/out" "$work/help"
  run 0 "$command" --help
  expect "help $command is $command --help" cmp -s "$work/out" "$work/help"
done
run 2 help wiegh
complains "did you mean 'weigh'?"

# Any file is checked as what it is, and the wrong kind of file is one problem.
drawer=$work/drawer.csv
printf 'candidate,pieces\nbutton,3\n' >"$drawer"
run 0 new --shop "$work/shop.toml"
run 0 check "$work/case.toml" "$work/shop.toml" "$drawer" "$project"/examples/history/bench-record.csv \
  "$project"/examples/quotations/*.csv "$project"/rates/*.toml
says "case.toml: ok (case)"
says "shop.toml: ok (shop)"
says "drawer.csv: ok (drawer)"
says "bench-record.csv: ok (history)"
says "ok (quotation)"
says "lives.toml: ok (rates)"
printf 'candidate,pieces\nbutton,many\n' >"$work/bad.csv"
run 3 check "$work/bad.csv"
complains "bad.csv:2:8: error: pieces"
complains "    button,many"
run 3 check "$work/bad.csv" "$work/case.toml" --table problems
says "bad.csv,2,8,pieces,"
expect "they are no messages then" test ! -s "$work/err"
run 3 check "$work/bad.csv" "$work/case.toml" --format markdown
says "1 problem"
run 3 check "$work/bad.csv" "$work/case.toml" --format html
run 0 check "$work/case.toml" --table files
says "case.toml,case,ok"
run 3 check "$work/bad.csv" "$work/case.toml" --format json
says '"schema": "mendworth.check"'
says '"kind": "drawer"'
says '"excerpt": "button,many"'
run 4 check "$work/bad.csv" "$work/none.toml" --format json
says "there is no such file"
for wrong in "weigh $work/shop.toml" "buy $drawer" "quote $work/case.toml --shop $work/case.toml" "drawer $work/case.toml" \
  "lifetime $drawer" "weigh $work/case.toml --drawer $work/shop.toml" "bulk $work/case.toml --quotation $drawer"; do
  run 3 $wrong
  complains "is wanted here"
  expect "one message for: $wrong" test "$(messages | wc -l)" -eq 1
done
sed 's/^age_years = 6/age = 6/' "$work/case.toml" >"$work/tried.toml"
run 3 weigh "$work/tried.toml"
complains "device.age: unknown key (write age_years)"
complains "    age = 6"

run 2
silent
run 2 wiegh "$work/case.toml"
complains "did you mean 'weigh'?"
run 2 weigh
run 2 weigh "$work/case.toml" --futurs 100
complains "did you mean '--futures'?"
run 2 weigh "$work/case.toml" --futures 99
run 2 weigh "$work/case.toml" --seed -1
run 2 weigh "$work/case.toml" --seed 0x10
run 2 weigh "$work/case.toml" --format xml
run 2 weigh "$work/case.toml" --date 2026-02-30
run 2 weigh "$work/case.toml" --set no-equals-sign
run 2 quote "$work/case.toml" extra.toml
run 2 check
run 3 weigh "$work/case.toml" --set labour.rate_per_huor=3
complains "rate_per_hour"
run 3 weigh "$work/case.toml" --set labour.rate_per_hour=-3
run 0 weigh "$work/case.toml" --futures 500 --set labour.rate_per_hour=0 --set replacement.price=80
says "80"
finish
