# The same input gives the same bytes, on any number of threads and on any day.
. "$(dirname "$0")/lib.sh"

"$program" new "$work/case.toml" 2>/dev/null
for format in text json; do
  run 0 weigh "$work/case.toml" --futures 5000 --threads 1 --format $format
  cp "$work/out" "$work/one"
  for threads in 2 3 8 0; do
    run 0 weigh "$work/case.toml" --futures 5000 --threads $threads --format $format
    expect "$threads threads change the $format" cmp -s "$work/one" "$work/out"
  done
  LC_ALL=C.UTF-8 TZ=Pacific/Kiritimati run 0 weigh "$work/case.toml" --futures 5000 --format $format
  expect "place and time change the $format" cmp -s "$work/one" "$work/out"
  run 0 weigh "$work/case.toml" --futures 5000 --seed 2 --format $format
  expect "another seed changes nothing in the $format" sh -c '! cmp -s "$1" "$2"' - "$work/one" "$work/out"
done

run 0 buy "$project/examples/stage-metronome.toml" --futures 3000 --threads 1
cp "$work/out" "$work/one"
run 0 buy "$project/examples/stage-metronome.toml" --futures 3000 --threads 3
expect "threads change what to buy" cmp -s "$work/one" "$work/out"

sed -e 's/^devices = 40/devices = 8/' -e 's/^failed = 9/failed = 2/' "$project/examples/keypad-fleet.toml" >"$work/fleet.toml"
run 0 bulk "$work/fleet.toml" --quantity 500 --show all --seed 3
cp "$work/out" "$work/one"
run 0 bulk "$work/fleet.toml" --quantity 500 --show all --seed 3
expect "the same seed buys the same for a fleet" cmp -s "$work/one" "$work/out"

# A guarantee asks for the date: a stated one, or that of SOURCE_DATE_EPOCH (2026-03-01).
printf '%s\n' '--set' 'device.guarantee_until=2026-06-30' >"$work/words"
mapfile -t words <"$work/words"
run 0 weigh "$work/case.toml" --futures 500 "${words[@]}" --date 2026-03-01
expect "a live guarantee comes first" grep -q '2026-06-30' <(head -1 "$work/out")
cp "$work/out" "$work/one"
SOURCE_DATE_EPOCH=1772366400 run 0 weigh "$work/case.toml" --futures 500 "${words[@]}"
expect "SOURCE_DATE_EPOCH fixes the date" cmp -s "$work/one" "$work/out"
SOURCE_DATE_EPOCH=soon run 2 weigh "$work/case.toml" --futures 500 "${words[@]}"
run 0 weigh "$work/case.toml" --futures 500 "${words[@]}" --date 2026-07-01
expect "an ended guarantee does not" sh -c '! head -1 "$1" | grep -q 2026-06-30' - "$work/out"
finish
