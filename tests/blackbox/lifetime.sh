# 'mendworth lifetime' as a user meets it: answers, formats, wrong use, bad files; nothing half written.
. "$(dirname "$0")/lib.sh"
record=$project/examples/history/bench-record.csv

run 0 lifetime --help
says "worked_at"
run 0 schema lifetime
says '"mendworth.lifetime'
run 0 schema weigh
says '"mendworth.weighing'
run 2 schema lifetimes
complains "wants one of weigh"

run 0 lifetime "$record" --part "volume encoder" --at 20000 --at 5e4 --show all
cp "$work/out" "$work/by-name"
says "working at 20000"
says "working at 50000"
expect "no line is wider than 80" awk 'length > 80 { print; exit 1 }' "$work/out"
expect "no number that is none" sh -c '! grep -Eqw "nan|inf|-nan" "$1"' - "$work/out"
expect "plain ASCII" sh -c '! LC_ALL=C grep -q "[^ -~]" "$1"' - "$work/out"
"$program" lifetime - --part "volume encoder" --at 20000 --at 5e4 --show all <"$record" | sed "s#^Record: -,#Record: $record,#" >"$work/by-stdin"
expect "standard input gives the same figures" diff <(grep -v -e Record -e ages "$work/by-name") <(grep -v -e Record -e ages "$work/by-stdin")
run 0 lifetime "$record" --part "volume encoder" --format json
says '"schema": "mendworth.lifetime"'
run 0 lifetime "$record"
says "Several parts are taken as one here: 'volume encoder', 'membrane key'"

# The same record as a spreadsheet elsewhere writes it.
sed '/"/d' "$record" >"$work/plain.csv"
run 0 lifetime "$work/plain.csv" --part "volume encoder" --format json
grep -v source_name "$work/out" >"$work/expected"
sed -e 's/,/;/g' -e "1s/^/$(printf '\357\273\277')/" -e 's/$/\r/' "$work/plain.csv" >"$work/semicolons.csv"
run 0 lifetime "$work/semicolons.csv" --decimal-comma --part "volume encoder" --format json
expect "semicolons, CR LF and a byte order mark change nothing" diff <(grep -v source_name "$work/out") "$work/expected"

# Files: whole or not at all.
run 0 lifetime "$record" --part "membrane key" --out "$work/a.txt" --plot "$work/a.svg" --rates-out "$work/a.toml"
silent
expect "the answer is there" grep -q "Half of these pieces" "$work/a.txt"
expect "the image is there" grep -q "</svg>" "$work/a.svg"
expect "the entry is named after the part" grep -qx '\[life.membrane-key\]' "$work/a.toml"
run 0 lifetime "$record" --part "membrane key" --rates-out - --out /dev/null --rates-name Key-2
expect "rates on standard output" grep -qx '\[life.Key-2\]' "$work/out"
printf 'age_hours,state\n5,working\n' >"$work/none.csv"
run 0 lifetime "$work/none.csv" --assumed-shape 3
says "shape 3 (assumed"
rm "$work"/a.*
run 3 lifetime "$work/none.csv" --out "$work/a.txt" --plot "$work/a.svg" --rates-out "$work/a.toml" --rates-name x
complains "no law"
silent
printf 'age_hours,state\n5,borken\n' >"$work/bad.csv"
run 3 lifetime "$work/bad.csv" --out "$work/a.txt" --plot "$work/a.svg"
complains "bad.csv:2: error: state: unknown state 'borken'"
run 4 lifetime "$record" --out "$work/a.txt" --plot "$work/no-such-folder/a.svg"
expect "nothing half written" test -z "$(find "$work" -name 'a.*')"

# Wrong use.
run 2 lifetime
run 2 lifetime "$record" --confidence 95
complains "--confidence wants a fraction from 0.5 to 0.999, not '95'"
run 2 lifetime "$record" --at 0
run 2 lifetime "$record" --at -3
run 2 lifetime "$record" --at 10 20
run 2 lifetime "$record" --assumed-shape 0
run 2 lifetime "$record" --rates-name x
run 2 lifetime "$record" --rates-out "$work/x.toml"
complains "--part 'volume encoder'"
run 2 lifetime "$record" --part "membrane key" --rates-out "$work/x.toml" --rates-name "a b"
run 2 lifetime "$record" --out "$work/x" --plot "$work/../$(basename "$work")/x"
complains "both write to"
run 2 lifetime "$record" --plot -
run 2 lifetime "$record" --plot "$record"
complains "the file that is read"
run 2 lifetime "$record" --grop kind
complains "did you mean '--group'?"
run 3 lifetime "$record" --group knid
complains "did you mean 'kind'?"
run 3 lifetime "$record" --part "volume encodre"
complains "did you mean 'volume encoder'?"

# Bad files.
refused() { # refused FILE: bad data, nothing printed, no crash
  run 3 lifetime "$work/$1"
  silent
  complains "$work/$1"
  expect "no internal error for $1" sh -c '! grep -q internal "$1"' - "$work/err"
}
: >"$work/empty.csv"
refused empty.csv
head -c 5000 "$program" >"$work/binary.csv"
refused binary.csv
printf 'age_hours,state\n1,"failed\n2,working\n' >"$work/quote.csv"
refused quote.csv
complains "quote.csv:2:"
printf 'age_hours,state\n\033[2J,failed\n' >"$work/escape.csv"
refused escape.csv
expect "messages hold no escape" sh -c '! grep -q "$(printf "\033")" "$1"' - "$work/err"
# 50 MB, under sanitizers 5.
bytes=${MENDWORTH_FEW_CASES:+5000000}
bytes=${bytes:-50000000}
{ printf 'age_hours,state\n'; head -c "$bytes" /dev/zero | tr '\0' '7'; printf ',failed\n'; } >"$work/long.csv"
refused long.csv
expect "a short message for a long line" test "$(wc -c <"$work/err")" -lt 1000
{ printf 'age_hours,state\n'; head -c 20000000 /dev/zero | tr '\0' ','; } >"$work/wide.csv"
refused wide.csv
rm "$work/long.csv" "$work/wide.csv"
{ printf 'age_hours,state\n'; yes '1,bad' | head -150; } >"$work/many.csv"
refused many.csv
complains "and 50 more problems"
run 4 lifetime "$work"
run 4 lifetime "$work/missing.csv"
silent
if [ -w /dev/full ]; then run 4 lifetime "$record" --plot /dev/full; fi
finish
