# What the README shows is what the program prints: the block after each marker '<!-- output: WORDS -->' must be the
# beginning of what 'mendworth WORDS' prints. And its commands work, word for word: the ten minutes in an empty folder,
# then every line that begins with 'mendworth', in their order, in one that has the examples.
#   bash readme.sh PROGRAM PROJECT
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

mkdir "$work/bin" "$work/empty" "$work/clone"
ln -s "$(realpath "$program")" "$work/bin/mendworth"
export PATH="$work/bin:$PATH"
block() { awk -v mark="<!-- command: $1 -->" '
  $0 == mark { found = 1; next }
  found && /^```/ { if (inside) exit; inside = 1; next }
  inside { print }' README.md; }
block ten-minutes >"$work/ten-minutes"
[ "$(grep -c '^mendworth' "$work/ten-minutes")" -gt 6 ]
(cd "$work/empty" && bash -euo pipefail "$work/ten-minutes" >"$work/printed" 2>&1) ||
  { cat "$work/printed"; echo "FAILED: the ten minutes"; exit 1; }

# With sanitizers these take long and bring no new steps.
if readelf -Ws "$program" 2>/dev/null | grep -q __asan_init; then exit 0; fi
awk '/^```sh/ { inside = 1; next } /^```/ { inside = 0 } inside && /^mendworth/' README.md |
  grep -vxFf "$work/ten-minutes" >"$work/commands"
[ "$(wc -l <"$work/commands")" -gt 30 ]
cp -r examples "$work/clone"
cd "$work/clone"
while read -r line; do
  case $line in
    "mendworth ask") continue ;; # asks; ask.sh answers
    "mendworth new --shop "*) rm -f my-shop.toml ;;
    "mendworth new "*) rm -f my-case.toml ;;
  esac
  bash -eu -c "$line" >"$work/printed" 2>&1 </dev/null ||
    { cat "$work/printed"; echo "FAILED: $line"; exit 1; }
done <"$work/commands"
