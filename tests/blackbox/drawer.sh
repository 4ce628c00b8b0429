# The drawer: many commands at once, commands killed at any moment, links, folders that may not be written.
. "$(dirname "$0")/lib.sh"

drawer=$work/drawer.csv
export program drawer work

pieces_of() { # pieces_of NAME: all pieces of this name, as the file has them
  awk -F, -v name="$1" '$1 == name { sum += $2 } END { print sum + 0 }' "$drawer"
}
only_the_drawer() { # the file and its lock, nothing else
  expect "no other file stays: $(ls "$work" | tr '\n' ' ')" \
    test "$(find "$work" -name 'drawer.csv*' | sort | tr '\n' ' ')" = "$drawer $drawer.lock "
}

# First use.
run 4 drawer "$drawer"
complains "there is no such file"
run 4 drawer "$drawer" --take relay
expect "nothing is made to take from" test -z "$(find "$work" -name 'drawer.csv*')"
run 0 drawer "$drawer" --add "button 6x6" --pieces 10 --since 2025-03-01
says "10 pieces of 'button 6x6' added; 10 there now"
run 0 drawer "$drawer"
says "10 pieces under 1 name"
run 0 drawer "$drawer" --format json
says '"schema": "mendworth.drawer"'
run 0 schema drawer
says 'mendworth.drawer, version 1'
cp "$drawer" "$work/before"
run 3 drawer "$drawer" --take "button 6x6" --pieces 11
complains "there are 10 pieces of 'button 6x6', not 11"
run 3 drawer "$drawer" --take "buton 6x6"
complains "did you mean 'button 6x6' (10 pieces)?"
run 2 drawer "$drawer" --add relay --take relay
run 2 drawer "$drawer" --pieces 3
expect "what fails changes nothing" cmp -s "$drawer" "$work/before"
only_the_drawer

# Many at once: each command counts.
run 0 drawer "$drawer" --add shared --pieces 1000
seq 300 | xargs -P 12 -I{} sh -c '
  if [ $(({} % 3)) -eq 0 ]; then "$program" drawer "$drawer" --take shared --pieces 3
  else "$program" drawer "$drawer" --add shared --pieces 2; fi >/dev/null 2>>"$work/trouble" || echo {} >>"$work/failed"'
expect "every one of many commands succeeds" test ! -s "$work/failed"
expect "none of them has anything to say: $(head -c 200 "$work/trouble")" test ! -s "$work/trouble"
# 1000 + 200 * 2 - 100 * 3
expect "the total is that of all commands: $(pieces_of shared)" test "$(pieces_of shared)" -eq 1100
only_the_drawer

# Killed at any moment: each command has a name of its own, so what it did can be told. Done is what said so; a killed
# one is there whole or not at all. The moments are spread over twice the time that a command
# takes here, four at a time.
start=$(date +%s%N)
seq 16 | xargs -P 4 -I{} "$program" drawer "$drawer" --add timed >/dev/null
export span=$((2 * ($(date +%s%N) - start) / 4000)) # microseconds; each of the four ran four commands
kill_one() {
  local n=$1
  local micros=$(((n * 7919 % 300) * span / 300 + 1))
  [ "$micros" -lt 1000000 ] || micros=999999
  timeout -s KILL "$(printf '0.%06d' "$micros")" "$program" drawer "$drawer" --add "killed $n" --pieces $((n % 7 + 1)) \
    >"$work/said.$n" 2>/dev/null
  echo "$?" >"$work/code.$n"
  # Now and then somebody reads meanwhile.
  [ $((n % 10)) -ne 0 ] || "$program" drawer "$drawer" >/dev/null 2>>"$work/unreadable" || echo "$n" >>"$work/unreadable"
}
export -f kill_one
seq 300 | xargs -P 4 -I{} bash -c 'kill_one {}' 2>/dev/null
expect "the file is readable at any time" test ! -s "$work/unreadable"
run 0 drawer "$drawer"
done_count=0
killed_count=0
sum=0
for n in $(seq 300); do
  there=$(awk -F, -v name="killed $n" '$1 == name { print $2 }' "$drawer")
  sum=$((sum + ${there:-0}))
  code=$(cat "$work/code.$n")
  if [ "$code" -eq 0 ]; then
    done_count=$((done_count + 1))
    [ "$there" = $((n % 7 + 1)) ] || fail "command $n succeeded, and its pieces are '$there'"
  else
    killed_count=$((killed_count + 1))
    [ "$code" -eq 137 ] || fail "command $n ended with $code"
    [ -z "$there" ] || [ "$there" = $((n % 7 + 1)) ] || fail "command $n was killed half done: '$there'"
  fi
done
echo "$done_count done, $killed_count killed"
total=$(awk -F, 'NR > 1 { sum += $2 } END { print sum }' "$drawer")
# 10 buttons, 1100 shared, 16 timed, and the sum above: nothing was lost, nothing came from nowhere.
expect "the total is that of what was done: $total" test "$total" -eq $((10 + 1100 + 16 + sum))
run 0 drawer "$drawer" --add "button 6x6"
only_the_drawer

# Who waits for the lock can be stopped, and goes on when it is free. Some systems have no flock command.
if command -v flock >/dev/null; then
  cp "$drawer" "$work/before"
  mkfifo "$work/held" "$work/release"
  flock "$drawer.lock" sh -c 'echo >"$work/held"; read -r _ <"$work/release"' &
  holder=$!
  read -r _ <"$work/held"
  timeout -s INT 0.3 "$program" drawer "$drawer" --add waiting >"$work/out" 2>&1
  expect "Ctrl-C ends the wait" test $? -eq 124
  expect "and changes nothing" cmp -s "$drawer" "$work/before"
  run 0 drawer "$drawer"
  "$program" drawer "$drawer" --add waiting >"$work/out" 2>&1 &
  waiting=$!
  echo >"$work/release"
  wait "$holder"
  wait "$waiting"
  expect "who waits goes on when it is free" test $? -eq 0
  expect "and is counted" test "$(pieces_of waiting)" -eq 1
fi

# One's own columns, a symbolic link, a leftover of a killed command.
mkdir "$work/real"
printf 'box;candidate;pieces\r\n"A;1";"knob, \303\251";3\r\n' >"$work/real/own.csv"
ln -s real/own.csv "$work/link.csv"
echo 'half a f' >"$work/real/own.csv.mendworth-new"
run 0 drawer "$work/link.csv" --take "knob, é"
printf 'box;candidate;pieces\r\n"A;1";knob, \303\251;2\r\n' >"$work/expected"
expect "all else is as it was" cmp -s "$work/real/own.csv" "$work/expected"
expect "a link stays a link" test -L "$work/link.csv"
expect "leftovers go" test ! -e "$work/real/own.csv.mendworth-new"

# A folder in its place, a folder that may not be written.
run 4 drawer "$work/real"
run 4 drawer "$work/real" --add knob
complains "is a folder"
run 4 drawer "$work/no-such-folder/drawer.csv" --add knob
expect "one message" test "$(messages | wc -l)" -eq 1
as_user=
if [ "$(id -u)" -eq 0 ]; then # root may write anywhere
  as_user='setpriv --reuid=65534 --regid=65534 --clear-groups'
  chmod 755 "$work"
  $as_user "$program" --version >/dev/null 2>&1 || as_user=none
fi
if [ "$as_user" != none ]; then
  mkdir "$work/locked"
  cp "$work/before" "$work/locked/drawer.csv"
  chmod 555 "$work/locked"
  $as_user "$program" drawer "$work/locked/drawer.csv" >"$work/out" 2>"$work/err"
  expect "to read asks for no right to write" test $? -eq 0
  $as_user "$program" drawer "$work/locked/drawer.csv" --add knob >"$work/out" 2>"$work/err"
  expect "a folder that may not be written is file trouble" test $? -eq 4
  expect "one message" test "$(messages | wc -l)" -eq 1
  chmod 755 "$work/locked"
  expect "nothing is left there" test "$(ls "$work/locked")" = drawer.csv
fi

# Weighing with it.
"$program" new "$work/case.toml" 2>/dev/null
run 0 weigh "$work/case.toml" --futures 500 --drawer "$drawer"
run 4 weigh "$work/case.toml" --futures 500 --drawer "$work/missing.csv"
printf 'candidate,pieces\nknob,x\n' >"$work/wrong.csv"
run 3 weigh "$work/case.toml" --futures 500 --drawer "$work/wrong.csv"
complains "wrong.csv:2:6: error: pieces: found 'x'"
finish
