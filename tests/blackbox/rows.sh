# A table of devices, row by row: each answer is that of a weighing of the row's case; what is wrong stays in its line.
. "$(dirname "$0")/lib.sh"

example=$project/examples/stock-scanner.toml
few=(--futures 100)

run 0 rows "$example" "$project/examples/tables/scanners.csv" --format json
cp "$work/out" "$work/rows.json"
cat >"$work/as_weighed.py" <<'PY'
import json, subprocess, sys
program, case, rows = sys.argv[1:]
keys = {"age": "device.age_years", "pulls a day": "device.use_per_day",
        "price of a new one": "replacement.price", "minutes": "labour.visit_minutes"}
for line in open(rows):
    row = json.loads(line)
    sets = [f"--set={keys[k]}={v}" for k, v in row["row"].items() if k in keys and v]
    w = json.loads(subprocess.run([program, "weigh", case, "--precision", "2%", "--format", "json"] + sets,
                                  capture_output=True, check=True).stdout)
    best = next(o for o in w["options"] if o["name"] == w["verdict"]["best"])
    wanted = {"verdict": w["verdict"]["kind"], "confidence": w["verdict"]["confidence"], "best": best["name"],
              "saving": w["verdict"]["saving_amount"],
              "saving_error": w["verdict"]["saving_error_amount"],
              "money_now": best["cash_now_cost"]}
    for key, value in wanted.items():
        if row[key] != value:
            sys.exit(f"{row['row']}: {key} is {row[key]}, weighed alone {value}")
PY
expect 'rows are as weighed alone, to the digit' python3 "$work/as_weighed.py" "$program" "$example" "$work/rows.json"

# What is copied is shown by a spreadsheet, not run, and says nothing to a terminal.
printf 'serial,age\n=1+1,4\na\033[31mb,4\n' >"$work/odd.csv"
run 0 rows "$example" "$work/odd.csv" "${few[@]}"
says "'=1+1,4,"
says 'a [31mb,4,'

# 2,000 rows, under sanitizers 200, of which one in a hundred is broken, in every way.
count=${MENDWORTH_FEW_CASES:+200}
count=${count:-2000}
python3 - "$work/many.csv" "$count" <<'PY'
import sys
broken = ["-3,900,165,25", "4,900,165", "4,900,165,25,9", "four,900,165,25", "4,\"900,165,25", "4,9\"00,165,25",
          "4,nan,165,25", "4,1e400,165,25", "{ low = 9, high = 2 },900,165,25", "4,900,-1,25", "4,900,165,1e12",
          "[1],900,165,25", "4,900,\"{\",25", "\x01,900,165,25", "=1+1,900,165,25", "4;900;165;25", "'4,900,165,25",
          "4,900,165,true", "4,0,165,25"]
with open(sys.argv[1], "wb") as out:
    out.write(b"serial,age,pulls a day,price of a new one,minutes\r\n")
    for i in range(int(sys.argv[2])):
        row = f"S{i},{1 + i % 9},{300 + i},{80 + i % 120},25"
        if i % 100 == 50:
            at = i // 100
            row = f"S{i}," + broken[at] if at < len(broken) else "S%d,\xff,900,165,25" % i
        out.write(row.encode("latin-1") + b"\r\n")
PY
run 3 rows "$example" "$work/many.csv" "${few[@]}"
complains "$((count / 100)) of $count rows have no answer"
expect 'a line for each row and the headings' test "$(wc -l <"$work/out")" -eq $((count + 1))
cp "$work/out" "$work/whole.csv"
expect 'in order, the problem in its own line' python3 - "$work/whole.csv" <<'PY'
import csv, sys
rows = list(csv.DictReader(open(sys.argv[1], encoding="utf-8", errors="strict")))
for i, row in enumerate(rows):
    wrong = i % 100 == 50
    if bool(row["problem"]) != wrong or bool(row["verdict"]) == wrong: sys.exit(f"row {i}: {row}")
    if not wrong and row["serial"] != f"S{i}": sys.exit(f"row {i} is {row['serial']}")
PY
run 3 rows "$example" "$work/many.csv" "${few[@]}" --threads 1
expect 'the number of threads changes nothing' cmp -s "$work/out" "$work/whole.csv"

# Shards give the same lines: the table without its header, cut anywhere.
tail -n +2 "$work/many.csv" | head -n 300 >"$work/body.csv"
headings='serial,age,pulls a day,price of a new one,minutes'
run 3 rows "$example" "$work/body.csv" "${few[@]}" --header "$headings" --format json
cp "$work/out" "$work/together.json"
split -l 77 "$work/body.csv" "$work/shard."
for shard in "$work"/shard.*; do
  "$program" rows "$example" - "${few[@]}" --header "$headings" --format json <"$shard" 2>/dev/null
done >"$work/shards.json"
expect 'shards put together are the whole' cmp -s "$work/together.json" "$work/shards.json"
validates() { python3 -c "
import json, sys, jsonschema
schema = json.load(open(sys.argv[1]))
for line in open(sys.argv[2]): jsonschema.validate(json.loads(line), schema)" "$@"; }
run 0 schema rows
cp "$work/out" "$work/rows.schema"
expect 'lines of JSON satisfy their schema' validates "$work/rows.schema" "$work/together.json"

# A closed pipe, a full disk, a killed program: what came out are whole lines.
first=$("$program" rows "$example" "$work/many.csv" "${few[@]}" 2>/dev/null | head -n 1)
expect 'the first line is whole' test "$first" = "$(head -n 1 "$work/whole.csv")"
if [ -w /dev/full ]; then
  "$program" rows "$example" "$work/body.csv" --header "$headings" "${few[@]}" >/dev/full 2>"$work/err"
  expect 'a full disk is exit code 4' test $? -eq 4
  complains 'cannot be written: No space left on device'
fi
for signal in INT TERM KILL; do
  "$program" rows "$example" "$work/many.csv" "${few[@]}" >"$work/part.csv" 2>/dev/null &
  worker=$!
  for _ in $(seq 100); do [ "$(wc -l <"$work/part.csv")" -gt 20 ] && break; sleep 0.1; done
  kill -"$signal" $worker
  wait $worker 2>/dev/null
  lines=$(wc -l <"$work/part.csv")
  expect "$signal leaves whole lines" cmp -s "$work/part.csv" <(head -n "$lines" "$work/whole.csv")
done

# Headings.
printf 'serial,agee\n1,4\n' >"$work/bad.csv"
run 3 rows "$example" "$work/bad.csv"
complains "did you mean 'age'?"
printf 'serial,device.age_year\n1,4\n' >"$work/bad.csv"
run 3 rows "$example" "$work/bad.csv"
complains "did you mean 'age_years'?"
printf 'age,device.age_years\n1,4\n' >"$work/bad.csv"
run 3 rows "$example" "$work/bad.csv"
complains 'set twice'
printf 'serial\n1\n' >"$work/bad.csv"
run 3 rows "$example" "$work/bad.csv"
complains 'no column of the table sets anything'
run 3 rows "$example" "$example"
complains 'this is no table of devices'
printf '' >"$work/bad.csv"
run 3 rows "$example" "$work/bad.csv"
complains 'the table is empty'
run 4 rows "$example" "$work/none.csv"
printf '\xef\xbb\xbfserial;age;device.name\n1;3,5;3M lamp\n\n' >"$work/german.csv"
run 0 rows "$example" "$work/german.csv" "${few[@]}" --decimal-comma
says '1,"3,5",3M lamp,'
finish
