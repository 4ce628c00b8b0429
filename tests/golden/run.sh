# Whole outputs, compared byte by byte with what was kept.
#   bash tests/golden/run.sh compare|update PROGRAM PROJECT
# A case is a file tests/golden/NAME.command: the words after 'mendworth', one line, run in the project's folder.
# NAME.expected holds its exit code, standard output and standard error. `update` writes these files anew: read
# the difference before keeping it.
set -u
mode=$1
program=$(realpath -e "$2") || exit 1
project=$3
unset NO_COLOR
export LC_ALL=C TERM=dumb SOURCE_DATE_EPOCH=1772366400
cd "$project" || exit 1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
shopt -s nullglob

count=0
failures=0
for command in tests/golden/*.command tests/golden/*/*.command; do
  expected=${command%.command}.expected
  read -r -a words <"$command"
  "$program" "${words[@]}" >"$work/out" 2>"$work/err" </dev/null
  code=$?
  {
    echo "exit code: $code"
    echo "--- standard output"
    cat "$work/out"
    echo "--- standard error"
    cat "$work/err"
  } | sed "s/mendworth [0-9][0-9.]*[0-9]\.\$/mendworth VERSION./" >"$work/actual"
  count=$((count + 1))
  if [ "$mode" = update ]; then
    cp "$work/actual" "$expected"
    echo "written: $expected"
  elif ! diff -u "$expected" "$work/actual"; then
    failures=$((failures + 1))
  fi
done
echo "$count outputs, $failures differ"
[ "$count" -gt 0 ] && [ "$failures" -eq 0 ]
