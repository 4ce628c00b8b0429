# What the README shows is what the program prints: the block after each marker '<!-- output: WORDS -->' must be the
# beginning of what 'mendworth WORDS' prints.   bash readme.sh PROGRAM PROJECT
set -eu
program=$1
cd "$2"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export SOURCE_DATE_EPOCH=1772366400
sed -n 's/^<!-- output: \(.*\) -->$/\1/p' README.md >"$work/marks"
[ -s "$work/marks" ]
while read -r words; do
  awk -v mark="<!-- output: $words -->" '
    $0 == mark { found = 1; next }
    found && /^```/ { if (inside) exit; inside = 1; next }
    inside { print }' README.md >"$work/shown"
  lines=$(wc -l <"$work/shown")
  [ "$lines" -gt 10 ]
  # shellcheck disable=SC2086
  "$program" $words >"$work/printed" </dev/null
  head -n "$lines" "$work/printed" | diff -u "$work/shown" -
done <"$work/marks"
