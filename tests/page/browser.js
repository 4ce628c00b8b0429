'use strict';
// What the checks of pages share: a browser, what a page may ask for, and what must hold of all that is shown.
const fs = require('fs');
const path = require('path');
const { chromium } = require('playwright-core');
const { HtmlValidate } = require('html-validate');
const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

let wrong = 0;
function problem(text) {
  wrong += 1;
  console.log('PROBLEM ' + text);
}

const launch = () => chromium.launch({
  executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
  args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking', '--no-first-run'],
});

/** Every request must begin with `address`; every message of the browser is a problem, but for those that `but` takes. */
function watch(page, address, where, but = () => false) {
  page.on('request', (request) => {
    if (!request.url().startsWith(address) && !request.url().startsWith('data:')) problem(`${where}: asks for ${request.url()}`);
  });
  page.on('pageerror', (error) => problem(`${where}: ${error}`));
  page.on('console', (message) => { if (!but(message.text())) problem(`${where}: console: ${message.text()}`); });
}

/** Runs in the page: what is wider than the window, and words in pictures that lie over one another or are cut off. */
function misplaced() {
  const found = [];
  const room = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth > room) found.push(`${document.documentElement.scrollWidth} px wide`);
  for (const e of document.querySelectorAll('main *, body > header *')) {
    if (!e.checkVisibility() || e.closest('svg') || e.closest('.unseen')) continue;
    // On a narrow window the heads of tables are there for screen readers only.
    if (e.closest('thead') && getComputedStyle(e.closest('thead')).position === 'absolute') continue;
    if (e.getBoundingClientRect().right > room + 0.5) found.push(`sticks out: ${e.tagName} ${e.id}: ${e.textContent.slice(0, 40)}`);
  }
  for (const svg of document.querySelectorAll('svg[role=img]')) {
    if (!svg.checkVisibility() || svg.getBoundingClientRect().width === 0) continue;
    const frame = svg.getBoundingClientRect();
    const name = svg.querySelector('title').textContent;
    const texts = [...svg.querySelectorAll('text')].filter((t) => t.textContent.trim()).map((t) => [t.textContent, t.getBoundingClientRect()]);
    texts.forEach(([words, box], i) => {
      if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1)
        found.push(`${name}: '${words}' is cut off`);
      for (const [others, other] of texts.slice(i + 1)) {
        // A letter's box is higher than what is drawn of it.
        const over = Math.min(box.right, other.right) - Math.max(box.left, other.left);
        const down = Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top);
        if (over > 1 && down > 0.35 * Math.min(box.height, other.height)) found.push(`${name}: '${words}' lies over '${others}'`);
      }
    });
  }
  return found.slice(0, 8);
}

/** Runs in the page as it is printed: words too small to read, headings and tables that may be torn from what they belong to. */
function misprinted() {
  const found = [];
  const least = 8 * 96 / 72;
  for (const e of document.querySelectorAll('main *, body > header *')) {
    const own = [...e.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent.trim());
    if (!own || !e.checkVisibility() || e.closest('.unseen') || ['title', 'desc'].includes(e.tagName)) continue;
    const svg = e.closest('svg[role=img]');
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    const size = parseFloat(getComputedStyle(e).fontSize) * scale;
    if (size < least) found.push(`${(size * 72 / 96).toFixed(1)} pt: ${e.textContent.slice(0, 40)}`);
  }
  const must = (selector, property, value) => {
    for (const e of document.querySelectorAll(selector)) {
      if (e.checkVisibility() && getComputedStyle(e)[property] !== value) found.push(`${e.tagName} may be torn: ${e.textContent.slice(0, 40)}`);
    }
  };
  must('h1, h2, h3, caption, .strong', 'breakAfter', 'avoid');
  must('table:not(.tall), p, figure:not(:has(details[open])), svg[role=img]', 'breakInside', 'avoid');
  must('table.tall', 'breakInside', 'auto');
  for (const fold of document.querySelectorAll('main details')) {
    if (fold.open !== fold.checkVisibility() && fold.parentElement.checkVisibility()) found.push(`a fold that is ${fold.open ? 'open is not' : 'shut is'} printed`);
  }
  return found.slice(0, 8);
}

const picturesTo = process.env.PICTURES || '';  // a folder; pictures take most of the time, so they are left out without it

const leavePicture = (page, where) =>
  picturesTo && page.screenshot({ path: path.join(picturesTo, where.replaceAll(' ', '-') + '.png'), fullPage: true });
const leavePdf = (page, where, format = 'A4') =>
  page.pdf({ path: picturesTo ? path.join(picturesTo, where.replaceAll(' ', '-') + '.pdf') : undefined, format });

const everyRule = { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] };
const colours = { type: 'rule', values: ['color-contrast', 'link-in-text-block'] };

/** All that must hold of what is shown. */
async function look(page, where, rules = everyRule) {
  for (const what of await page.evaluate(misplaced)) problem(`${where}: ${what}`);
  await leavePicture(page, where);
  if (!await page.evaluate(() => Boolean(window.axe))) await page.evaluate(axe);
  const violations = await page.evaluate(async (runOnly) =>
    (await window.axe.run(document, { resultTypes: ['violations'], runOnly })).violations, rules);
  for (const violation of violations) {
    problem(`${where}: ${violation.id}: ${violation.help}`);
    for (const node of violation.nodes.slice(0, 3)) console.log('    ' + node.html.slice(0, 200));
  }
}

const sizes = [{ width: 360, height: 740 }, { width: 768, height: 1024 }, { width: 1440, height: 900 }];

/** At each size, for who prefers light and who prefers dark, and as A4 and Letter would be printed. */
async function lookAround(page, where) {
  for (const size of sizes) {
    await page.setViewportSize(size);
    for (const colorScheme of ['light', 'dark']) {
      await page.emulateMedia({ colorScheme });
      // Nothing but colours differs in the dark.
      await look(page, `${where} ${colorScheme} ${size.width}`, colorScheme === 'light' ? everyRule : colours);
    }
  }
  for (const [format, width] of [['A4', 680], ['Letter', 700]]) {
    await page.emulateMedia({ media: 'print', colorScheme: 'light' });
    await page.setViewportSize({ width, height: 1000 });
    for (const what of await page.evaluate(misplaced)) problem(`${where}, printed on ${format}: ${what}`);
    for (const what of await page.evaluate(misprinted)) problem(`${where}, printed on ${format}: ${what}`);
    await leavePdf(page, `${where} ${format}`, format);
  }
  await page.emulateMedia({ media: 'screen', colorScheme: 'light' });
  await page.setViewportSize(sizes[2]);
}

// Left out: what is about the layout of the source alone.
const strict = ['html-validate:recommended', 'html-validate:document', 'html-validate:a11y'];
const written = new HtmlValidate({ root: true, extends: strict });
// And what a browser writes in its own way; files that come from the same place as the page need no sums.
const inBrowser = new HtmlValidate({ root: true, extends: strict, rules: {
  'require-sri': 'off', 'valid-id': ['error', { relaxed: true }], 'attribute-boolean-style': 'off', 'attribute-empty-style': 'off',
  'no-trailing-whitespace': 'off', 'doctype-style': 'off', 'void-style': 'off', 'prefer-native-element': ['error', { exclude: ['status'] }] } });

function validate(validator, where, html) {
  for (const { messages } of validator.validateStringSync(html).results) {
    for (const m of messages) problem(`${where}: line ${m.line}: ${m.ruleId}: ${m.message}`);
  }
}
const validateFile = (where, html) => validate(written, where, html);
/** As it stands in the browser; the accessibility checker leaves empty styles. */
const validatePage = async (where, page) => validate(inBrowser, where, (await page.content()).replaceAll(' style=""', ''));

function end() {
  console.log(wrong ? `${wrong} problems` : 'all is as it should be');
  process.exit(wrong ? 1 : 0);
}

module.exports = { end, launch, leavePdf, look, lookAround, problem, validateFile, validatePage, watch };
