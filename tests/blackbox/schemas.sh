# The schemas of the files, by a validator: what the program takes they accept, and of what it refuses they reject
# whatever is wrong in one key alone: an unknown one, a wrong type, a number out of its limits.
. "$(dirname "$0")/lib.sh"

run 0 schema case
cp "$work/out" "$work/case.json"
run 0 schema shop
cp "$work/out" "$work/shop.json"
"$program" new "$work/new.toml" 2>/dev/null
"$program" new --every-key "$work/every.toml" 2>/dev/null
"$program" new --shop "$work/shop.toml" 2>/dev/null
validates() { expect "$1 with the schema $2" python3 "$project/tests/blackbox/validate_toml.py" "$@"; }
cases=()
for file in "$project"/examples/*.toml; do [ "$(basename "$file")" = shop.toml ] || cases+=("$file"); done
validates accepts "$work/case.json" "$work/new.toml" "$work/every.toml" "${cases[@]}"
validates accepts "$work/shop.json" "$work/shop.toml" "$project/examples/shop.toml"
validates rejects "$work/case.json" "$project"/tests/golden/errors/*.toml
validates rejects "$work/shop.json" "$project"/tests/golden/shop_errors/*.toml
finish
