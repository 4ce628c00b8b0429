# Help, version, starter cases, rates, schema, wrong use.
. "$(dirname "$0")/lib.sh"

run 0 --version
expect "the version is one line" test "$(wc -l <"$work/out")" -eq 1
run 0 --help
expect "help begins with examples" test "$(head -1 "$work/out")" = "Examples:"
expect "help ends with the exit codes" grep -q "70 a fault of the program" <(tail -2 "$work/out")
for command in ask weigh buy bulk quote check new rates lifetime drawer schema; do
  run 0 "$command" --help
  run 0 --help
  says "$command"
done

run 0 new
cp "$work/out" "$work/case.toml"
expect "the starter case has fewer than 35 lines" test "$(wc -l <"$work/case.toml")" -lt 35
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
run 2 weigh "$work/case.toml" extra.toml
run 2 check
run 3 weigh "$work/case.toml" --set labour.rate_per_huor=3
complains "rate_per_hour"
run 3 weigh "$work/case.toml" --set labour.rate_per_hour=-3
run 0 weigh "$work/case.toml" --futures 500 --set labour.rate_per_hour=0 --set replacement.price=80
says "80"
finish
