# What the README shows is what the program prints: the block after each marker '<!-- output: NAME -->' must be the
# beginning of 'weigh examples/NAME.toml'.   bash readme.sh PROGRAM PROJECT
set -eu
program=$1
cd "$2"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
names=$(sed -n 's/^<!-- output: \(.*\) -->$/\1/p' README.md)
[ -n "$names" ]
for name in $names; do
  awk -v mark="<!-- output: $name -->" '
    $0 == mark { found = 1; next }
    found && /^```/ { if (inside) exit; inside = 1; next }
    inside { print }' README.md >"$work/shown"
  lines=$(wc -l <"$work/shown")
  [ "$lines" -gt 10 ]
  "$program" weigh "examples/$name.toml" >"$work/printed"
  head -n "$lines" "$work/printed" | diff -u "$work/shown" -
done
