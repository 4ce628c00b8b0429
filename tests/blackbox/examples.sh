# Every example is complete, answers quickly and keeps to 80 columns.
. "$(dirname "$0")/lib.sh"

shopt -s nullglob
examples=("$project"/examples/*.toml)
expect "there are at least four examples" test "${#examples[@]}" -ge 4
for example in "${examples[@]}"; do
  case $example in */shop.toml) continue ;; esac # no case
  run 0 check "$example"
  run 0 weigh "$example" --futures 2000 --date 2026-03-01
  expect "$example: the first screen has at most 40 lines" test "$(wc -l <"$work/out")" -le 40
  run 0 weigh "$example" --futures 2000 --date 2026-03-01 --show all
  expect "$example: no line is wider than 80" awk 'length > 80 { print; exit 1 }' "$work/out"
  expect "$example: no number that is none" sh -c '! grep -Eqw "nan|inf|-nan" "$1"' - "$work/out"
  expect "$example: no negative zero" sh -c '! grep -Eq "(^|[^0-9.])-0\.?0*( |$)" "$1"' - "$work/out"
  run 0 weigh "$example" --futures 2000 --date 2026-03-01 --format json
  says '"schema": "mendworth.weighing"'
  run 0 buy "$example" --futures 2000 --show all
  expect "$example: no line of buy is wider than 80" awk 'length > 80 { print; exit 1 }' "$work/out"
  expect "$example: no number of buy that is none" sh -c '! grep -Eqw "nan|inf|-nan" "$1"' - "$work/out"
  expect "$example: no negative zero in buy" sh -c '! grep -Eq "(^|[^0-9.])-0\.?0*( |$)" "$1"' - "$work/out"
done
finish
