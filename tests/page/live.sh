#!/usr/bin/env bash
# Works on the live page the way a person with a browser does. Not part of ctest: it needs what check.sh needs.
#
#   tests/page/live.sh --modules DIR/node_modules --out FOLDER PROGRAM PROJECT
#
# Serves an example and an empty start, moves every kind of control, and looks at 360, 768 and 1440 pixels, light and
# dark: no message of the browser, no request to elsewhere, nothing wider than the window, every rule of axe-core holds;
# after each movement the figures are those of `weigh --set`; html-validate finds nothing in the pages as they stand in
# the browser. Prints how long movements take. Leaves pictures in FOLDER.
set -euo pipefail

out=live-check
while [ $# -gt 0 ]; do
  case $1 in
    --modules) export NODE_PATH=$2; shift 2 ;;
    --out) out=$2; shift 2 ;;
    --*) echo "live.sh: unknown option $1" >&2; exit 2 ;;
    *) break ;;
  esac
done
[ $# -eq 2 ] || { echo "live.sh: give PROGRAM and PROJECT" >&2; exit 2; }
[ -n "${NODE_PATH:-}" ] || { echo "live.sh: give --modules DIR or NODE_PATH" >&2; exit 2; }
export CHROMIUM=${CHROMIUM:-$(command -v chromium || command -v chromium-browser || command -v google-chrome || true)}
[ -n "$CHROMIUM" ] || { echo "live.sh: no Chromium found; set CHROMIUM" >&2; exit 2; }
program=$(realpath "$1") project=$(realpath "$2")
mkdir -p "$out"
out=$(realpath "$out")
work=$(mktemp -d)
servers=()
trap 'kill "${servers[@]}" 2>/dev/null; rm -rf "$work"' EXIT

serve() { # NAME WORDS...: the address in $work/NAME
  local name=$1
  shift
  (cd "$work" && exec "$program" page "$@" --no-browser) >"$work/$name.address" 2>/dev/null &
  servers+=($!)
  for _ in $(seq 100); do [ -s "$work/$name.address" ] && break; sleep 0.1; done
}
cp "$project/examples/field-recorder.toml" "$work/case.toml"
serve case case.toml --shop "$project/examples/shop.toml"
serve empty

wrong=0
node "$(dirname "$0")/live.js" "$out" "$program" "$work/case.toml" "$(cat "$work/case.address")" \
  "$(cat "$work/empty.address")" || wrong=1
# Left out: what is about the layout of the source alone, what a browser writes in its own way, and sums of files that
# come from the same place as the page.
cat > "$work/rules.json" <<'RULES'
{ "root": true, "extends": ["html-validate:recommended", "html-validate:document", "html-validate:a11y"],
  "rules": { "require-sri": "off", "valid-id": ["error", { "relaxed": true }], "attribute-boolean-style": "off", "attribute-empty-style": "off", "no-trailing-whitespace": "off",
             "doctype-style": "off", "void-style": "off", "prefer-native-element": ["error", { "exclude": ["status"] }] } }
RULES
"$NODE_PATH/.bin/html-validate" --config "$work/rules.json" "$out"/*.html || wrong=1
exit $wrong
