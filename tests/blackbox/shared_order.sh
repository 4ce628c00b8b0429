# Several cases with one order: buy of several files, and rows with --order.
. "$(dirname "$0")/lib.sh"

cases=("$project"/examples/one-order/*.toml)
few=(--futures 400)

run 0 schema shared-order
cp "$work/out" "$work/schema.json"
run 0 buy "${cases[@]}" "${few[@]}" --format json
cp "$work/out" "$work/order.json"
cat >"$work/whole.py" <<'PY'
import json, sys, jsonschema
order = json.load(open(sys.argv[1]))
jsonschema.validate(order, json.load(open(sys.argv[2])))
cents = lambda value: round(value * 10 ** order["minor_digits"])
shares = sum(cents(job["share_cost"]) for job in order["jobs"])
assert shares == cents(order["landed_cost"]), (shares, order["landed_cost"])
assert all(job["repaired"] or job["share_cost"] == 0 for job in order["jobs"])
assert any(job["repaired"] for job in order["jobs"])
PY
expect 'the shares add up, by the schema' python3 "$work/whole.py" "$work/order.json" "$work/schema.json"

run 0 buy "${cases[2]}" "${cases[0]}" "${cases[1]}" "${few[@]}" --format json
cat >"$work/same.py" <<'PY'
import json, sys
one, other = (json.load(open(name)) for name in sys.argv[1:])
key = lambda job: job["source_name"]
assert sorted(one.pop("jobs"), key=key) == sorted(other.pop("jobs"), key=key)
for answer in (one, other):
    for line in answer["lines"] + answer["taken"]: del line["for"]
assert one == other
PY
expect 'the order of the files changes nothing' python3 "$work/same.py" "$work/order.json" "$work/out"
run 0 buy "${cases[@]}" "${few[@]}" --show all
expect 'no line is wider than 80' awk 'length > 80 { print; exit 1 }' "$work/out"

# What does not go together.
run 2 buy "${cases[@]}" --pieces 'lit button=3'
run 2 buy "${cases[@]}" --vary replacement.price=10:20:2
run 2 buy "${cases[0]}" -
sed 's/6\.90/7.10/' "${cases[1]}" >"$work/dearer.toml"
run 3 buy "${cases[0]}" "$work/dearer.toml" "${few[@]}"
complains "the supplier 'Quayside Components' is stated otherwise than in"
sed 's/"EUR"/"CHF"/' "${cases[1]}" >"$work/abroad.toml"
run 3 buy "${cases[0]}" "$work/abroad.toml" "${few[@]}"
complains 'one order needs one currency'

# Rows: those on standard output stay as they are.
example=$project/examples/stock-scanner.toml
table=$project/examples/tables/scanners.csv
run 0 rows "$example" "$table" "${few[@]}"
cp "$work/out" "$work/rows.csv"
run 0 rows "$example" "$table" "${few[@]}" --order "$work/order.txt"
expect 'the rows are the same with an order' cmp -s "$work/out" "$work/rows.csv"
expect 'the order is there' grep -q 'with one order' "$work/order.txt"
run 0 rows "$example" "$table" "${few[@]}" --format json --order "$work/rows.json"
expect 'as JSON too' python3 "$work/whole.py" "$work/rows.json" "$work/schema.json"
run 2 rows "$example" "$table" --order -
# A table of too many rows is refused when the first of these comes, before a row is answered, and whatever follows.
(echo age; seq -f 4.%03g 501; sleep 20) | timeout 15 "$program" rows "$project/examples/stock-scanner.toml" - \
  --order "$work/many.txt" >"$work/out" 2>"$work/err"
expect "a row too many is wrong use" test "${PIPESTATUS[1]}" -eq 2
complains "one order is for at most 500 rows"
silent
expect "and no order" test ! -e "$work/many.txt"

finish
