#!/usr/bin/env bash
# Looks at HTML pages - quotes, reports - the way a browser, a screen reader and a printer do. Not part of ctest: it
# needs node, Chromium and three packages of npm.
#
#   npm install --prefix DIR html-validate axe-core playwright-core
#   tests/page/check.sh --modules DIR/node_modules --out FOLDER PAGE.html...
#
# For each page: html-validate with its recommended rules; axe-core in Chromium at 360, 768 and 1440 pixels, for who
# prefers light and who prefers dark, every rule that it has; nothing may be wider than the window; no request may leave
# the file; no error of the browser. Leaves FOLDER/PAGE-light-360.png .. PAGE-dark-1440.png, PAGE-A4.pdf and
# PAGE-Letter.pdf to be looked at. Exit code 1 if anything is wrong.
# Modules are looked for in --modules, else in NODE_PATH; Chromium in $CHROMIUM, else on the PATH.
set -euo pipefail

out=page-check
while [ $# -gt 0 ]; do
  case $1 in
    --modules) export NODE_PATH=$2; shift 2 ;;
    --out) out=$2; shift 2 ;;
    --*) echo "check.sh: unknown option $1" >&2; exit 2 ;;
    *) break ;;
  esac
done
[ $# -gt 0 ] || { echo "check.sh: no page is given" >&2; exit 2; }
[ -n "${NODE_PATH:-}" ] || { echo "check.sh: give --modules DIR or NODE_PATH" >&2; exit 2; }
export CHROMIUM=${CHROMIUM:-$(command -v chromium || command -v chromium-browser || command -v google-chrome || true)}
[ -n "$CHROMIUM" ] || { echo "check.sh: no Chromium found; set CHROMIUM" >&2; exit 2; }

wrong=0
# The strictest of its sets; what is about the layout of the source alone is left out.
rules=$(mktemp --suffix=.json)
trap 'rm -f "$rules"' EXIT
cat > "$rules" <<'RULES'
{ "root": true, "extends": ["html-validate:recommended", "html-validate:document", "html-validate:a11y"] }
RULES
"$NODE_PATH/.bin/html-validate" --config "$rules" "$@" || wrong=1

node - "$out" "$@" <<'NODE' || wrong=1
const fs = require('fs');
const path = require('path');
const { pathToFileURL } = require('url');
const { chromium } = require('playwright-core');
const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

const [out, ...files] = process.argv.slice(2);
const sizes = [{ width: 360, height: 740 }, { width: 768, height: 1024 }, { width: 1440, height: 900 }];
let wrong = 0;
const problem = (text) => { wrong += 1; console.log('PROBLEM ' + text); };

(async () => {
  fs.mkdirSync(out, { recursive: true });
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM,
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking', '--no-first-run'],
  });
  for (const file of files) {
    const name = path.basename(file, '.html');
    const url = pathToFileURL(path.resolve(file)).href;
    for (const colorScheme of ['light', 'dark']) for (const viewport of sizes) {
      const where = `${name} at ${viewport.width} px, ${colorScheme}`;
      const page = await browser.newPage({ viewport, colorScheme });
      page.on('request', (request) => { if (request.url() !== url) problem(`${where}: asks for ${request.url()}`); });
      page.on('pageerror', (error) => problem(`${where}: ${error}`));
      page.on('console', (message) => { if (message.type() === 'error') problem(`${where}: ${message.text()}`); });
      await page.goto(url);
      const wide = await page.evaluate(() => {
        const room = document.documentElement.clientWidth;
        const over = [...document.querySelectorAll('main *, header *')]
          .filter((e) => e.getBoundingClientRect().right > room + 0.5 || e.scrollWidth > e.clientWidth + 1)
          .filter((e) => e.clientWidth > 1)
          // On a narrow window the heads of tables are there for screen readers only.
          .filter((e) => !(e.closest('thead') && getComputedStyle(e.closest('thead')).position === 'absolute'))
          .map((e) => e.tagName + ': ' + e.textContent.slice(0, 40));
        return { scroll: document.documentElement.scrollWidth, room, over };
      });
      if (wide.scroll > wide.room) problem(`${where}: ${wide.scroll} px wide`);
      for (const element of wide.over) problem(`${where}: sticks out: ${element}`);
      await page.screenshot({ path: path.join(out, `${name}-${colorScheme}-${viewport.width}.png`), fullPage: true });
      await page.evaluate(axe);
      const found = await page.evaluate(() => window.axe.run(document, { runOnly: { type: 'tag', values:
        ['wcag2a', 'wcag2aa', 'wcag2aaa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] } }));
      for (const violation of found.violations) {
        problem(`${where}: axe ${violation.id}: ${violation.help}`);
        for (const node of violation.nodes.slice(0, 3)) console.log('    ' + node.html.slice(0, 160));
      }
      console.log(`${where}: ${found.passes.length} rules of axe hold, ${found.violations.length} do not, ` +
                  `${found.incomplete.length} undecided`);
      for (const open of found.incomplete) console.log(`    undecided: ${open.id}: ${open.help}`);
      await page.close();
    }
    const page = await browser.newPage();
    await page.goto(url);
    for (const format of ['A4', 'Letter']) {
      await page.pdf({ path: path.join(out, `${name}-${format}.pdf`), format, preferCSSPageSize: false });
    }
    await page.close();
  }
  await browser.close();
  process.exit(wrong > 0 ? 1 : 0);
})().catch((error) => { console.error(error); process.exit(1); });
NODE

[ $wrong -eq 0 ] && echo "all pages are as they should be"
exit $wrong
