#!/usr/bin/env bash
# Runs every fuzzer of a build for some seconds, from its corpus and from the files of the project that it can read:
#   bash tests/fuzz/run.sh build-sanitize SECONDS_EACH [TARGET...]
# What is found is left in the current folder as crash-*, leak-* or timeout-*; it belongs into a test.
set -euo pipefail
project=$(cd "$(dirname "$0")/../.." && pwd)
build=$(realpath -e "$1")
seconds=$2
shift 2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export LLVM_PROFILE_FILE=/dev/null ASAN_OPTIONS=${ASAN_OPTIONS:-allocator_may_return_null=1}

seeds_of() {
  case $1 in
    fuzz_read_case) cp "$project"/examples/[!s]*.toml "$project"/examples/s[!h]*.toml "$project"/tests/golden/errors/*.toml "$2" ;;
    fuzz_rows) cp "$project"/examples/tables/*.csv "$2" ;;
    fuzz_read_shop) cp "$project"/examples/shop.toml "$project"/tests/golden/shop_errors/*.toml "$2" ;;
    fuzz_overlay_rates) cp "$project"/rates/*.toml "$2" ;;
    fuzz_read_history) for f in "$project"/examples/history/*.csv; do (printf ' ' && head -40 "$f") >"$2/$(basename "$f")"; done ;;
    fuzz_read_quotation) for f in "$project"/examples/quotations/*.csv; do (printf ' ' && cat "$f") >"$2/$(basename "$f")"; done ;;
  esac
}

if [ $# -eq 0 ]; then
  for fuzzer in "$build"/tests/fuzz/fuzz_*; do
    [ -x "$fuzzer" ] && [ -f "$fuzzer" ] && set -- "$@" "$(basename "$fuzzer")"
  done
fi
for target in "$@"; do
  mkdir -p "$work/$target/seeds" "$work/$target/finds"
  seeds_of "$target" "$work/$target/seeds"
  corpus=$project/tests/fuzz/corpus/$target
  [ -d "$corpus" ] || corpus=
  echo "--- $target"
  "$build/tests/fuzz/$target" -max_total_time="$seconds" -max_len=6000 -timeout=20 -rss_limit_mb=2048 -seed=1 \
    -verbosity=0 -print_final_stats=1 "$work/$target/finds" "$work/$target/seeds" $corpus 2>"$work/log" || {
    cat "$work/log"
    exit 1
  }
  grep -E "stat::(number_of_executed_units|new_units_added)" "$work/log"
done
