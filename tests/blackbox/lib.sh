# For the black-box tests: runs the program and compares what a user sees.
#   bash tests/blackbox/NAME.sh PROGRAM PROJECT
set -u
program=$1
project=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
unset NO_COLOR SOURCE_DATE_EPOCH
export LC_ALL=C TERM=dumb
failures=0
checks=0

# run EXPECTED_CODE WORDS...: standard output and error end up in $work/out and $work/err.
run() {
  local expected=$1
  shift
  "$program" "$@" >"$work/out" 2>"$work/err" </dev/null
  local code=$?
  checks=$((checks + 1))
  if [ "$code" -ne "$expected" ]; then
    fail "mendworth $*: exit code $code, expected $expected"
    sed 's/^/    /' "$work/err" | head -5
  fi
}

fail() {
  failures=$((failures + 1))
  echo "FAILED: $*"
}

expect() { # expect WHAT COMMAND...: the command succeeds
  local what=$1
  shift
  checks=$((checks + 1))
  "$@" || fail "$what"
}

says() { expect "'$1' is missing in what was printed" grep -qF -- "$1" "$work/out"; }
# A message may go on in a line below, two spaces to the right.
messages() { sed -e ':a' -e '$!N' -e 's/\n  \([^ ]\)/ \1/' -e 'ta' -e P -e D "$work/err"; }
complains() { expect "'$1' is missing in the messages: $(head -c 300 "$work/err")" grep -qF -- "$1" <(messages); }
silent() { expect "nothing was to be printed" test ! -s "$work/out"; }

finish() {
  echo "$checks checks, $failures failed"
  [ "$failures" -eq 0 ] && [ "$checks" -gt 0 ]
  exit $?
}
