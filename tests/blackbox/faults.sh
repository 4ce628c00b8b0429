# What happens when the machine fails: full disks, folders that cannot be written, files that vanish, signals in the
# middle of work, closed pipes, little memory, a poor environment. Nothing half written, nothing left lying about.
. "$(dirname "$0")/lib.sh"

# What is killed leaves half a profile.
export LLVM_PROFILE_FILE=/dev/null
sanitized=$(readelf -Ws "$program" 2>/dev/null | grep -c -m1 __asan_init)
"$program" new "$work/case.toml" 2>/dev/null
"$program" new --shop "$work/shop.toml" 2>/dev/null
run 0 weigh "$work/case.toml" --futures 500
cp "$work/out" "$work/expected"
mkdir "$work/place"

# --- signals in the middle of the work; each_step.sh has those in the middle of writing ------------------------------------
# interrupted SIGNAL DELAY WORDS...: ended by the signal, or done before it came; the folder holds whole files alone.
interrupted() {
  local signal=$1 delay=$2
  shift 2
  rm -rf "$work/place"
  mkdir "$work/place"
  # A shell without job control has its background jobs ignore SIGINT.
  (set -m; exec "$program" "$@" >/dev/null 2>&1 </dev/null) &
  local child=$!
  sleep "$delay"
  kill -s "$signal" "$child" 2>/dev/null
  wait "$child" 2>/dev/null
  local code=$?
  checks=$((checks + 1))
  case $code in
    0 | 129 | 130 | 141 | 143) ;;
    *) fail "mendworth $1, $signal after $delay s: exit code $code" ;;
  esac
  ended=$((ended + (code != 0)))
  local left
  left=$(find "$work/place" \( -name '*.??????' -o -name '*mendworth-new*' \) ! -name '*.svg' ! -name '*.html')
  expect "$signal after $delay s in $1 left: $left" test -z "$left"
}
ended=0
for signal in INT TERM HUP PIPE; do
  interrupted $signal 0.1 weigh "$work/case.toml" --futures 400000 --out "$work/place/answer"
  interrupted $signal 0.1 ask --yes --futures 400000 --out "$work/place/asked.toml"
  interrupted $signal 0.1 bulk "$project/examples/keypad-fleet.toml" --out "$work/place/order"
  interrupted $signal 0.1 quote "$work/case.toml" --shop "$work/shop.toml" --futures 400000 --record "$work/place/records"
done
expect "some commands were ended by a signal" test "$ended" -gt 5

# --- places that cannot be written --------------------------------------------------------------------------------------
if [ -w /dev/full ]; then
  for words in "weigh $work/case.toml --futures 500" "new" "rates" "schema case" "check $work/case.toml" "--help"; do
    "$program" $words >/dev/full 2>"$work/err"
    expect "a full disk is file trouble of $words" test $? -eq 4
    complains "standard output cannot be written: No space left on device"
  done
fi
# A limit on the size of files stands for a disk that fills in the middle of a file.
rm -rf "$work/place"
mkdir "$work/place"
cp "$work/expected" "$work/place/answer"
(trap '' XFSZ; ulimit -f 1; "$program" weigh "$work/case.toml" --futures 500 --show all --out "$work/place/answer" 2>"$work/err")
expect "a file that outgrows its limit is file trouble" test $? -eq 4
complains "cannot be written"
expect "the old answer stays" cmp -s "$work/place/answer" "$work/expected"
expect "nothing half written stays" test "$(find "$work/place" -type f | wc -l)" -eq 1

mkdir "$work/locked"
chmod 555 "$work/locked"
if ! touch "$work/locked/probe" 2>/dev/null; then
  run 4 weigh "$work/case.toml" --futures 500 --out "$work/locked/answer"
  complains "cannot be opened for writing"
  run 4 drawer "$work/locked/drawer.csv" --add "key switch" --pieces 1
  run 4 quote "$work/case.toml" --shop "$work/shop.toml" --record "$work/locked/records"
fi
chmod 755 "$work/locked"
run 4 weigh "$work/case.toml" --futures 500 --out "$work/case.toml/answer"
run 4 weigh "$work/case.toml" --futures 500 --out "$work/$(printf '%0300d' 1)"

# --- inputs ----------------------------------------------------------------------------------------------------------------
mkfifo "$work/pipe"
cat "$work/case.toml" >"$work/pipe" &
run 0 weigh "$work/pipe" --futures 500
wait
expect "a pipe with a name is read like a file" cmp -s "$work/out" <(sed "s|$work/case.toml|$work/pipe|g" "$work/expected")
ln -s "$work/gone.toml" "$work/dangling.toml"
run 4 weigh "$work/dangling.toml"
complains "there is no such file"
ln -s "$work/round.toml" "$work/round.toml"
run 4 weigh "$work/round.toml"
run 4 weigh /dev/null
run 3 weigh - # nothing on standard input

# Folders that vanish: that of the command, and that of the answer while it is worked out.
for words in "page --no-browser" "weigh case.toml" "new case.toml" "weigh $work/case.toml --out answer" \
  "drawer drawer.csv --add key" "quote $work/case.toml --record records"; do
  mkdir -p "$work/gone"
  (cd "$work/gone" && rmdir "$work/gone" && exec "$program" $words >"$work/out" 2>"$work/err" </dev/null)
  code=$?
  expect "$words in a folder that is gone: exit code $code" test $code -eq 4
done
mkdir "$work/place/inner"
"$program" weigh "$work/case.toml" --futures 400000 --out "$work/place/inner/answer" 2>"$work/err" &
sleep 0.1
rm -r "$work/place/inner"
wait $!
code=$?
expect "a folder that vanishes is file trouble unless the answer came first: exit code $code" test $code -eq 4 -o $code -eq 0

# --- outputs ---------------------------------------------------------------------------------------------------------------
run 0 weigh "$work/case.toml" --futures 500 --out /dev/stdout
expect "--out /dev/stdout prints the answer" cmp -s "$work/out" "$work/expected"
"$program" weigh "$work/case.toml" --futures 500 --out /dev/stdout 2>"$work/err" | cat >"$work/out"
expect "--out /dev/stdout fills a pipe" cmp -s "$work/out" "$work/expected"
(trap '' PIPE; "$program" weigh "$work/case.toml" --show all --futures 500 2>"$work/err"; echo $? >"$work/code") | true
expect "a closed pipe is file trouble" test "$(cat "$work/code")" -eq 4
"$program" weigh "$work/case.toml" --futures 500 >&- 2>"$work/err"
expect "no standard output is file trouble" test $? -eq 4
"$program" weigh "$work/missing.toml" 2>&-
expect "no place for messages changes no exit code" test $? -eq 4

# --- a poor environment ----------------------------------------------------------------------------------------------------
env -i "$program" weigh "$work/case.toml" --futures 500 >"$work/out" 2>"$work/err"
expect "no environment at all" cmp -s "$work/out" "$work/expected"
for locale in C POSIX xx_XX.UTF-8 tr_TR.UTF-8; do
  env -u HOME LC_ALL=$locale LANG=$locale "$program" weigh "$work/case.toml" --futures 500 >"$work/out" 2>"$work/err"
  expect "the locale $locale changes nothing" cmp -s "$work/out" "$work/expected"
done
for day in 0 4102444800 253402300799; do # 1970, 2100, 9999
  SOURCE_DATE_EPOCH=$day "$program" quote "$work/case.toml" --shop "$work/shop.toml" --futures 500 >"$work/out" 2>"$work/err"
  expect "a clock at $day s gives a page or says why not" test $? -le 5
done
for day in -1 nonsense 99999999999999999999 9223372036854775807; do
  SOURCE_DATE_EPOCH=$day "$program" quote "$work/case.toml" --shop "$work/shop.toml" --futures 500 >"$work/out" 2>"$work/err"
  code=$?
  expect "a clock at $day is no fault of the program: exit code $code" test $code -le 5
done

# --- little memory ---------------------------------------------------------------------------------------------------------
# A sanitizer keeps terabytes of addresses for itself.
if [ "$sanitized" -eq 0 ]; then
  for kilobytes in 9000 12000 16000 20000 30000 60000; do
    (ulimit -v $kilobytes; "$program" weigh "$work/case.toml" --futures 100000 >"$work/out" 2>"$work/err")
    code=$?
    # 127: the loader itself found no room for the libraries.
    expect "with $kilobytes KiB: exit code $code" test $code -eq 0 -o $code -eq 71 -o $code -eq 127
  done
  # Enough for the libraries, not for the costs of so many futures.
  least=10000
  code=1
  while [ $code -ne 0 ] && [ $least -lt 1000000 ]; do
    least=$((least + 250))
    (ulimit -v $least; "$program" --version >/dev/null 2>&1)
    code=$?
    expect "--version with $least KiB: exit code $code" test $code -eq 0 -o $code -eq 71 -o $code -eq 127
  done
  (ulimit -v $((least + 30000)); "$program" weigh "$work/case.toml" --threads 1 --futures 4000000 >"$work/out" 2>"$work/err")
  expect "too little memory has an exit code of its own" test $? -eq 71
  complains "out of memory"
fi

# --- what the names hold ---------------------------------------------------------------------------------------------------
escape=$(printf '\033')
hostile=$(printf '%s/a\033[31m\rb.toml' "$work")
for command in weigh buy check lifetime quote; do
  "$program" $command "$hostile" >"$work/out" 2>&1
  expect "$command: the name of a file moves no cursor" sh -c '! grep -q "$1" "$2"' - "$escape" "$work/out"
done
cp "$work/case.toml" "$hostile"
for form in text markdown csv html json; do
  "$program" weigh "$hostile" --futures 500 --show all --format $form >"$work/out" 2>&1
  expect "$form: the name of a file moves no cursor" sh -c '! grep -q "$1" "$2"' - "$escape" "$work/out"
done
"$program" weigh "$work/case.toml" --set "device.name=a${escape}[31m" >"$work/out" 2>&1
expect "a name with a control character is refused" test $? -eq 3
expect "and not repeated to the terminal" sh -c '! grep -q "$1" "$2"' - "$escape" "$work/out"

# --- records are for their owner -------------------------------------------------------------------------------------------
(umask 0; "$program" quote "$work/case.toml" --shop "$work/shop.toml" --futures 500 --record "$work/records" >/dev/null 2>&1)
if [ -d "$work/records" ]; then
  open=$(find "$work/records" -mindepth 2 -perm /077)
  expect "a record is for its owner's eyes: $open" test -z "$open"
  expect "a record was made" test -n "$(find "$work/records" -mindepth 2 -type f)"
fi
finish
