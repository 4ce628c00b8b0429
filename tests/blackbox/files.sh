# What happens to files: outputs whole or not at all, folders, missing files, a full disk, colour.
. "$(dirname "$0")/lib.sh"

"$program" new "$work/case.toml" 2>/dev/null
run 0 weigh "$work/case.toml" --futures 500
cp "$work/out" "$work/expected"

run 0 weigh "$work/case.toml" --futures 500 --out "$work/answer.txt"
silent
expect "the file holds what would have been printed" cmp -s "$work/answer.txt" "$work/expected"
run 3 weigh "$work/case.toml" --set nonsense=1 --out "$work/never.txt"
expect "bad data writes nothing" test ! -e "$work/never.txt"
run 3 weigh "$work/case.toml" --set nonsense=1 --out "$work/answer.txt"
expect "bad data leaves an old answer alone" cmp -s "$work/answer.txt" "$work/expected"
run 4 weigh "$work/case.toml" --out "$work/no-such-folder/answer.txt"
run 4 weigh "$work/case.toml" --out "$work"
run 2 weigh "$work/case.toml" --out "$work/case.toml"
run 0 weigh "$work/case.toml" --futures 500 --out -
expect "- is standard output" cmp -s "$work/out" "$work/expected"
run 0 weigh "$work/case.toml" --futures 500 --out /dev/null
expect "no temporary file stays" test -z "$(find "$work" -name '*.txt.*')"

run 4 weigh "$work/missing.toml"
silent
run 4 weigh "$work"
run 4 weigh "$work/case.toml" --rates "$work/missing"
run 4 check "$work/case.toml" "$work/missing.toml"
says "case.toml: ok"

mkdir "$work/rates"
run 4 weigh "$work/case.toml" --futures 500 --rates "$work/rates"
complains "holds no rates"
cp "$project"/rates/*.toml "$work/rates"
run 0 weigh "$work/case.toml" --futures 500 --rates "$work/rates"
expect "an overlay of the same rates changes nothing" cmp -s "$work/out" "$work/expected"
echo 'nonsense' >"$work/rates/own.toml"
run 3 weigh "$work/case.toml" --rates "$work/rates"
complains "own.toml:1:"

if [ -w /dev/full ]; then
  "$program" weigh "$work/case.toml" --futures 500 >/dev/full 2>"$work/err"
  expect "a full disk is file trouble" test $? -eq 4
  complains "standard output cannot be written: No space left on device"
  "$program" schema rates >&- 2>"$work/err"
  expect "no standard output is file trouble" test $? -eq 4
  complains "standard output cannot be written: Bad file descriptor"
  run 4 weigh "$work/case.toml" --futures 500 --out /dev/full
fi

escape=$(printf '\033')
expect "no colour in a pipe" sh -c '! grep -q "$1" "$2"' - "$escape" "$work/expected"
run 0 weigh "$work/case.toml" --futures 500 --color always
expect "colour on request" grep -q "$escape" "$work/out"
NO_COLOR=1 run 0 weigh "$work/case.toml" --futures 500 --color auto
expect "NO_COLOR counts" sh -c '! grep -q "$1" "$2"' - "$escape" "$work/out"
finish
