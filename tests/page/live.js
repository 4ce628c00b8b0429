'use strict';
// Run by live.sh: node live.js FOLDER PROGRAM CASE ADDRESS-OF-CASE ADDRESS-OF-EMPTY
const fs = require('fs');
const path = require('path');
const { execFileSync } = require('child_process');
const { chromium } = require('playwright-core');
const axe = fs.readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

const [out, program, caseFile, caseAddress, emptyAddress] = process.argv.slice(2);
const original = fs.readFileSync(caseFile, 'utf8');
let wrong = 0;
const problem = (text) => { wrong += 1; console.log('PROBLEM ' + text); };
const times = { quick: [], whole: [] };

/** Waits until the page shows what belongs to its latest revision. */
async function settled(page) {
  await page.waitForFunction(() => document.querySelector('#answer') && !document.querySelector('#answer').hasAttribute('aria-busy')
    && document.body.dataset.whole === document.body.dataset.quick, null, { timeout: 60000 });
}

/** Moves something, and how long the first answer and the whole one take. */
async function move(page, what) {
  const before = await page.evaluate(() => document.body.dataset.quick || '');
  const begin = Date.now();
  await what();
  await page.waitForFunction((old) => document.body.dataset.quick !== old, before, { timeout: 60000, polling: 10 });
  times.quick.push(Date.now() - begin);
  await page.waitForFunction(() => document.body.dataset.whole === document.body.dataset.quick, null, { timeout: 60000, polling: 10 });
  times.whole.push(Date.now() - begin);
  await settled(page);
}

async function figures(page, address) {
  const text = await page.evaluate(async (where) => (await fetch(where + 'answer.json')).text(), address);
  return JSON.parse(text);
}

function weighed(overrides) {
  const text = execFileSync(program, ['weigh', path.basename(caseFile), '--format', 'json', ...overrides.flatMap((o) => ['--set', o])],
    { cwd: path.dirname(caseFile), maxBuffer: 1 << 26 });
  return JSON.parse(text);
}

async function look(page, name) {
  const wide = await page.evaluate(() => {
    const room = document.documentElement.clientWidth;
    const over = [...document.querySelectorAll('main *, body > header *')]
      .filter((e) => e.checkVisibility() && e.getBoundingClientRect().right > room + 0.5)
      .filter((e) => !e.closest('thead') && !e.closest('.unseen') && !e.closest('svg'))
      .map((e) => e.tagName + ' ' + e.id + ': ' + e.textContent.slice(0, 40));
    return { scroll: document.documentElement.scrollWidth, room, over: over.slice(0, 5) };
  });
  if (wide.scroll > wide.room) problem(`${name}: ${wide.scroll} px wide`);
  for (const element of wide.over) problem(`${name}: sticks out: ${element}`);
  await page.screenshot({ path: path.join(out, name + '.png'), fullPage: true });
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document, { runOnly: { type: 'tag', values:
    ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] } }));
  for (const violation of found.violations) {
    problem(`${name}: axe ${violation.id}: ${violation.help}`);
    for (const node of violation.nodes.slice(0, 3)) console.log('    ' + node.html.slice(0, 200));
  }
  console.log(`${name}: ${found.passes.length} rules of axe hold, ${found.violations.length} do not`);
}

(async () => {
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM,
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking', '--no-first-run'] });
  const watch = (page, address, where) => {
    page.on('request', (request) => { if (!request.url().startsWith(address) && !request.url().startsWith('data:')) problem(`${where}: asks for ${request.url()}`); });
    page.on('pageerror', (error) => problem(`${where}: ${error}`));
    page.on('console', (message) => {
      // A refusal that the page tells its user of is a message of the browser too.
      if (!/status of (409|422)/.test(message.text())) problem(`${where}: console: ${message.text()}`);
    });
  };

  // Every kind of control.
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  watch(page, caseAddress, 'case');
  await page.goto(caseAddress);
  await settled(page);
  await page.fill('[id="f-labour.rate_per_hour"]', '31');
  await move(page, () => page.press('[id="f-labour.rate_per_hour"]', 'Tab'));
  let now = await figures(page, caseAddress), set = weighed(['labour.rate_per_hour=31']);
  if (JSON.stringify(now) !== JSON.stringify(set)) problem('figures after a typed number differ from weigh --set');

  const slider = page.locator('#sliders > .slider input').first();
  const key = await slider.getAttribute('data-key');
  for (let i = 0; i < 3; i += 1) await move(page, () => slider.press('ArrowRight'));
  const value = await slider.inputValue();
  now = await figures(page, caseAddress); set = weighed(['labour.rate_per_hour=31', `${key}=${value}`]);
  if (JSON.stringify(now) !== JSON.stringify(set)) problem(`figures after a slider (${key}=${value}) differ from weigh --set`);
  if (!await slider.evaluate((e) => document.activeElement === e)) problem('the slider lost the focus');
  if (!(await page.textContent('#sliders')).includes('turns at')) problem('no slider has its turning point');

  await page.click('#pin');
  await page.waitForFunction(() => document.querySelector('#pin').getAttribute('aria-pressed') === 'true');
  await move(page, () => page.click('#undo'));
  await page.waitForSelector('#comparison table');
  await move(page, () => page.click('#redo'));
  await page.click('#pin');

  await page.fill('[id="f-device.age_years"]', '2,5');
  await page.press('[id="f-device.age_years"]', 'Tab');
  await page.waitForSelector('[id="f-device.age_years"][aria-invalid=true]');
  const words = await page.textContent('[id="e-device.age_years"]');
  if (!words.includes('2,5')) problem('what is wrong is not said at its field: ' + words);
  await look(page, 'wrong-1440');
  await move(page, () => page.click('#undo'));

  await page.click('#g-supplier > summary');
  await page.click('[data-add="supplier"]');
  await page.waitForSelector('[data-remove="supplier.2"]');
  await move(page, () => page.click('[data-remove="supplier.2"]'));

  await page.check('#shop-side');
  await page.waitForFunction(() => /margin/i.test(document.querySelector('#quote').textContent), null, { timeout: 60000 });
  await page.uncheck('#shop-side');
  await page.waitForFunction(() => !/margin/i.test(document.querySelector('#quote').textContent), null, { timeout: 60000 });
  await page.click('#counter');
  if (await page.isVisible('#form') || await page.isVisible('#lead')) problem('the shop\'s side shows at the counter');
  await look(page, 'counter-1440');
  await page.click('#counter');

  await page.click('#save-menu > summary');
  await page.fill('#save-name', 'saved.toml');
  await page.click('#save');
  await page.waitForFunction(() => document.querySelector('#told').textContent.includes('saved'));
  const saved = fs.readFileSync(path.join(path.dirname(caseFile), 'saved.toml'), 'utf8');
  const comments = (text) => text.split('\n').filter((l) => l.includes('# ')).map((l) => l.slice(l.indexOf('# '))).join('\n');
  if (comments(saved) !== comments(original)) problem('comments were lost');
  const [download] = await Promise.all([page.waitForEvent('download'),
    page.click('#export-menu > summary').then(() => page.click('text=Report'))]);
  if (!fs.readFileSync(await download.path(), 'utf8').includes('</html>')) problem('the report is no page');
  await page.keyboard.press('Escape');

  for (const scheme of ['light', 'dark']) {
    for (const width of [360, 768, 1440]) {
      await page.emulateMedia({ colorScheme: scheme });
      await page.setViewportSize({ width, height: 900 });
      await look(page, `case-${scheme}-${width}`);
    }
  }
  await page.evaluate(() => document.querySelectorAll('#fields details').forEach((fold) => { fold.open = true; }));
  await page.setViewportSize({ width: 360, height: 900 });
  await look(page, 'whole-form-360');
  fs.writeFileSync(path.join(out, 'case.html'), (await page.content()).replaceAll(' style=""', ''));  // axe leaves these
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.emulateMedia({ media: 'print' });
  if (await page.isVisible('#form') || await page.isVisible('.tools')) problem('the form is printed');
  await page.pdf({ path: path.join(out, 'printed.pdf'), format: 'A4' });
  await page.close();

  // A first-time user's path, in steps.
  const first = await browser.newPage({ viewport: { width: 360, height: 740 } });
  watch(first, emptyAddress, 'empty');
  const begin = Date.now();
  const step = (name) => console.log(`first time: ${name} after ${Date.now() - begin} ms`);
  await first.goto(emptyAddress);
  await settled(first);
  step('first answer');
  for (const [key, value] of [['part', '0.45'], ['shipping', '4.90'], ['new', '85'], ['life', '7'], ['age', '4..8'], ['hour', '12']]) {
    await first.fill(`[id="f-ask.${key}"]`, value);
    await move(first, () => first.press(`[id="f-ask.${key}"]`, 'Tab'));
  }
  step('questions answered');
  await look(first, 'questions-360');
  fs.writeFileSync(path.join(out, 'questions.html'), (await first.content()).replaceAll(' style=""', ''));
  await first.click('#end');
  await first.waitForFunction(() => document.body.classList.contains('ended'));
  await first.close();
  await browser.close();

  for (const [kind, list] of Object.entries(times)) {
    list.sort((a, b) => a - b);
    console.log(`${kind} answers: median ${list[Math.floor(list.length / 2)]} ms, slowest ${list[list.length - 1]} ms, of ${list.length}`);
  }
  console.log(wrong ? `${wrong} problems` : 'the page is as it should be');
  process.exit(wrong > 0 ? 1 : 0);
})().catch((error) => { console.error(error); process.exit(1); });
