'use strict';
// node live.js PROGRAM PROJECT: works on the live page the way a person with a browser does - every control, every
// tool, by mouse and by keyboard, then a first-time user's path.
const fs = require('fs');
const os = require('os');
const path = require('path');
const { spawn, execFileSync } = require('child_process');
const { end, launch, leavePdf, look, lookAround, problem, validatePage, watch } = require('./browser.js');
const { compareWeighing } = require('./charts.js');

const [program, project] = process.argv.slice(2);
const work = fs.mkdtempSync(path.join(os.tmpdir(), 'live-page-'));
const settings = ['--futures', '256'];
const times = { first: [], whole: [] };
const servers = [];
process.on('exit', () => { servers.forEach((server) => server.kill()); fs.rmSync(work, { recursive: true }); });

/** The address of a page that is served. */
function serve(...words) {
  const server = spawn(program, ['page', ...words, '--no-browser', '--linger', '600'], { cwd: work });
  servers.push(server);
  return new Promise((resolve, reject) => {
    server.stdout.once('data', (line) => resolve(String(line).trim()));
    server.once('exit', (code) => reject(new Error(`page ${words.join(' ')} ended with ${code}`)));
  });
}

const patient = { timeout: 60000, polling: 10 };
const bodyData = (page) => page.evaluate(() => ({ ...document.body.dataset }));
/** Until the page shows the whole answer of its latest revision. */
const settled = (page) => page.waitForFunction(() => !document.querySelector('#answer').hasAttribute('aria-busy') &&
  document.body.dataset.whole && document.body.dataset.whole === document.body.dataset.quick, null, patient);

/** Moves something; how long the first answer takes, and the whole one if it is waited for. */
async function move(page, what, whole = true) {
  const { quick } = await bodyData(page);
  await page.evaluate(stopwatch);
  await what();
  await page.waitForFunction((old) => document.body.dataset.quick !== old, quick, patient);
  times.first.push(await (await page.waitForFunction(() => window.shown.quick, null, patient)).jsonValue());
  if (!whole) return;
  await settled(page);
  times.whole.push(await (await page.waitForFunction(() => window.shown.whole, null, patient)).jsonValue());
}

/** In the page: how many milliseconds after the last touch of a control the answers are there to be painted. */
function stopwatch() {
  window.shown = {};
  if (window.touched !== undefined) return;
  window.touched = 0;
  for (const event of ['input', 'change', 'click'])
    window.addEventListener(event, () => { window.touched = performance.now(); window.shown = {}; }, true);
  for (const kind of ['quick', 'whole']) {
    new MutationObserver(() => requestAnimationFrame(() => { window.shown[kind] = performance.now() - window.touched; }))
      .observe(document.body, { attributeFilter: [`data-${kind}`] });
  }
}

/** The page's answer must be that of `weigh` with the same entries set, and what is shown that answer. */
async function compare(page, file, overrides, where) {
  await settled(page);
  const shown = await page.evaluate(async () => (await fetch('answer.json')).text());
  const set = Object.entries(overrides).flatMap(([key, value]) => ['--set', `${key}=${value}`]);
  const weighed = execFileSync(program, ['weigh', file, '--format', 'json', ...settings, ...set],
    { cwd: work, encoding: 'utf8', maxBuffer: 1 << 26, stdio: ['ignore', 'pipe', 'ignore'] });
  if (shown !== weighed) {
    const a = shown.split('\n'), b = weighed.split('\n');
    const at = a.findIndex((line, i) => line !== b[i]);
    problem(`${where}: figures differ from weigh --set: ${a[at]} | ${b[at]}`);
  }
  return JSON.parse(shown);
}

const complaint = (text) => /status of (409|422)/.test(text);  // a refusal that the page tells is a message of the browser too

/** Another value for a field, as somebody might give it. */
function another(field) {
  if (field.tag === 'SELECT') return field.options[(field.options.indexOf(field.value) + 1) % field.options.length];
  if (field.type === 'date') return '2027-03-01';
  if (field.tag === 'FIELDSET') return null;
  if (field.tag === 'TEXTAREA') return (field.value ? field.value + '\n' : '') + 'another';
  if (!field.number) return (field.value || 'name') + ' x';
  const known = /^\d+(\.\d+)?/.exec(field.value) || /left out: (\d+(\.\d+)?)/.exec(field.help)?.slice(1);
  const value = known ? Number(known[0]) : 1;
  return String(field.whole ? value + 1 : Number((value * 1.1).toPrecision(4)));
}

/** Every field that the form has, one after the other. */
async function everyField(page) {
  const overrides = {};
  await page.evaluate(() => document.querySelectorAll('#fields details').forEach((fold) => { fold.open = true; }));
  const keys = await page.$$eval('#fields [id^="f-"]', (all) => all.map((e) => e.id));
  let changed = 0, refused = 0;
  for (const id of keys) {
    const control = page.locator(`[id="${id}"]`);
    if (await control.count() === 0) continue;  // an earlier change took it away
    const field = await control.evaluate((e) => ({ tag: e.tagName, type: e.type, value: e.value, number: e.inputMode === 'decimal',
      options: e.options ? [...e.options].map((o) => o.value) : [], help: document.getElementById('h-' + e.id.slice(2))?.textContent || '' }));
    const key = id.slice(2);
    field.list = field.tag === 'FIELDSET' || field.tag === 'TEXTAREA';
    field.whole = /\.(count|failed|pieces|stock|decimals)$|per_device$/.test(key);
    let value = another(field);
    const before = Number((await bodyData(page)).revision);
    if (field.tag === 'FIELDSET') await control.locator('input').first().click();
    else if (field.tag === 'SELECT') await control.selectOption(value);
    else { await control.fill(value); await control.press('Tab'); }
    await page.waitForFunction((old) => Number(document.body.dataset.revision) !== old, before, patient);
    if (await page.evaluate(() => document.querySelector('#problems').textContent !== '')) {
      refused += 1;
      await page.click('#undo');
      await page.waitForFunction((old) => Number(document.body.dataset.revision) >= old, before + 2, patient);
      continue;
    }
    await page.waitForFunction(() => document.body.dataset.quick === document.body.dataset.revision, null, patient);
    if (field.tag === 'FIELDSET') value = await control.evaluate((e) => [...e.querySelectorAll('input:checked')].map((box) => box.value).join('\n'));
    overrides[key] = field.list ? JSON.stringify(value ? value.split('\n') : []) : value;
    changed += 1;
    if (changed % 10 === 0) await compare(page, 'label.toml', overrides, `after ${key}`);
  }
  await compare(page, 'label.toml', overrides, 'after every field');
  console.log(`every field: ${changed} changed, ${refused} wrong values told of`);
  if (changed < 40) problem('only few fields were changed');
}

(async () => {
  for (const [name, copy] of [['field-recorder', 'case'], ['label-printer', 'label']])
    fs.copyFileSync(path.join(project, 'examples', name + '.toml'), path.join(work, copy + '.toml'));
  const original = fs.readFileSync(path.join(work, 'case.toml'), 'utf8');
  const browser = await launch();

  // Every kind of control and every tool.
  const address = await serve('case.toml', '--shop', path.join(project, 'examples', 'shop.toml'), ...settings);
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  watch(page, address, 'case', complaint);
  await page.goto(address);
  await settled(page);
  const id = (key) => `[id="f-${key}"]`;
  const overrides = { 'labour.rate_per_hour': '31' };
  await page.fill(id('labour.rate_per_hour'), '31');
  await move(page, () => page.press(id('labour.rate_per_hour'), 'Tab'));
  await compareWeighing(page, 'after a typed number', await compare(page, 'case.toml', overrides, 'after a typed number'));

  // Each slider, by keyboard.
  const sliders = await page.$$eval('#sliders > .slider input', (all) => all.map((e) => e.id));
  for (const one of sliders) {
    const slider = page.locator(`[id="${one}"]`);
    await slider.focus();
    await move(page, () => slider.press('ArrowRight'), false);
    await move(page, () => slider.press('ArrowRight'), false);
    overrides[await slider.getAttribute('data-key')] = await slider.inputValue();
    if (!await slider.evaluate((e) => document.activeElement === e)) problem('a slider lost the focus');
  }
  await compareWeighing(page, 'after the sliders', await compare(page, 'case.toml', overrides, 'after the sliders'));
  if (!(await page.textContent('#sliders')).includes('turns at')) problem('no slider has its turning point');

  await page.click('#pin');
  await page.waitForFunction(() => document.querySelector('#pin').getAttribute('aria-pressed') === 'true');
  await move(page, () => page.click('#undo'));
  await page.waitForSelector('#comparison table');
  await move(page, () => page.click('#redo'));
  await compare(page, 'case.toml', overrides, 'after undo and redo');
  await page.click('#pin');
  await page.waitForFunction(() => !document.querySelector('#comparison table'), null, patient);
  await page.evaluate(() => document.activeElement.blur());
  await move(page, () => page.keyboard.press('Control+z'));
  await move(page, () => page.keyboard.press('Control+y'));

  // A wrong value is told of, and not saved without a question.
  await page.fill(id('device.age_years'), '2,5');
  const asked = [];
  page.once('dialog', (dialog) => { asked.push(dialog.message()); dialog.dismiss(); });
  await page.click('#save-menu > summary');
  await page.click('#save');
  await page.waitForSelector(id('device.age_years') + '[aria-invalid=true]');
  for (let i = 0; i < 50 && !asked.length; i += 1) await page.waitForTimeout(100);
  if (!asked.length || !asked[0].includes('2,5')) problem(`a wrong value is saved without a question: ${asked}`);
  if (fs.readFileSync(path.join(work, 'case.toml'), 'utf8') !== original) problem('a wrong value was saved');
  await page.keyboard.press('Escape');
  const words = await page.textContent('[id="e-device.age_years"]');
  if (!words.includes('2,5')) problem('what is wrong is not said at its field: ' + words);
  await look(page, 'wrong 1440');
  await move(page, () => page.click('#undo'));

  await page.click('#g-supplier > summary');
  await page.click('[data-add="supplier"]');
  await page.waitForSelector('[data-remove="supplier.2"]');
  await move(page, () => page.click('[data-remove="supplier.2"]'));

  // The shop's side is not there unless it is asked for, and never at the counter.
  const isInside = (text) => /margin|at cost/i.test(text);
  const quoteSays = (inside) => page.waitForFunction((wanted) => /margin|at cost/i.test(document.querySelector('#quote').textContent) === wanted, inside, patient);
  if (isInside(await page.textContent('#quote'))) problem('the shop\'s side shows unasked');
  await page.check('#shop-side');
  await quoteSays(true);
  await page.click('#counter');
  await quoteSays(false);
  if (await page.isVisible('#form') || await page.isVisible('#lead')) problem('the shop\'s side shows at the counter');
  await look(page, 'counter 1440');
  await leavePdf(page, 'counter');
  await page.emulateMedia({ media: 'print' });
  if (await page.isVisible('body > header')) problem('the program\'s own head is printed on the customer\'s page');
  await page.emulateMedia({ media: 'screen' });
  await page.click('#counter');
  await quoteSays(true);
  await page.uncheck('#shop-side');
  await quoteSays(false);

  // Files.
  await page.click('#save-menu > summary');
  await page.fill('#save-name', 'saved.toml');
  await page.click('#save');
  await page.waitForFunction(() => document.querySelector('#told').textContent.includes('saved'));
  const saved = fs.readFileSync(path.join(work, 'saved.toml'), 'utf8');
  const comments = (text) => text.split('\n').filter((l) => l.includes('# ')).map((l) => l.slice(l.indexOf('# '))).join('\n');
  if (comments(saved) !== comments(original)) problem('comments were lost');
  await compare(page, 'saved.toml', {}, 'of the saved file');
  for (const [link, sign] of [['Report', 'What would turn it'], ['Tables, CSV', 'failed only'], ['Figures, JSON', 'mendworth.weighing']]) {
    await page.click('#export-menu > summary');
    const [download] = await Promise.all([page.waitForEvent('download'), page.click('text=' + link)]);
    if (!fs.readFileSync(await download.path(), 'utf8').includes(sign)) problem(`${link}: no '${sign}' in what is exported`);
    await page.keyboard.press('Escape');
  }
  await lookAround(page, 'case');
  await validatePage('case', page);
  await page.emulateMedia({ media: 'print' });
  if (await page.isVisible('#form') || await page.isVisible('.tools')) problem('the form is printed');
  if (await page.isVisible('.switch')) problem('a switch is printed');
  if (!await page.isVisible('#sections > details[open] section > table')) problem('what is unfolded is not printed');
  await page.emulateMedia({ media: 'screen' });
  await page.click('#open-menu > summary');
  await page.waitForSelector('#open-name option', { state: 'attached' });
  await page.selectOption('#open-name', 'label.toml');
  await move(page, () => page.click('#open'));
  if (!(await page.textContent('#name')).includes('label.toml')) problem('another case was not opened');
  await everyField(page);
  await page.setViewportSize({ width: 360, height: 740 });
  await look(page, 'whole form 360');
  await page.close();

  // A first-time user's path, in steps, on a phone's screen and by keyboard alone where a keyboard does.
  const empty = await serve(...settings);
  const first = await browser.newPage({ viewport: { width: 360, height: 740 } });
  watch(first, empty, 'first time', complaint);
  const begin = Date.now();
  const step = (name) => console.log(`first time: ${name} after ${Date.now() - begin} ms`);
  await first.goto(empty);
  await settled(first);
  step('the page with its first answer');
  const answers = { kind: 'lamp', class: 'rotary-encoder', alike: '3', failed: '1', part: '1.45', shipping: '4.90', new: '85', life: '7',
    age: '4..8', use: '30', hour: '12' };
  let given = 0;
  for (const [key, answer] of Object.entries(answers)) {
    const control = first.locator(`[id="f-ask.${key}"]`);
    if (await control.count() === 0) continue;  // not asked of such a part
    const [tag, has] = await control.evaluate((e) => [e.tagName, e.value]);
    if (has === answer) continue;
    if (tag === 'SELECT') {
      await control.selectOption(answer);
    } else {
      await control.fill(answer);
      await control.press('Tab');
    }
    given += 1;
    await first.waitForFunction(() => document.body.dataset.quick === document.body.dataset.revision, null, patient);
  }
  for (const key of ['hours', 'minutes']) {
    const unknown = first.locator(`[data-unknown="ask.${key}"]`);
    if (await unknown.count() === 0) continue;
    await unknown.click();
    given += 1;
  }
  await settled(first);
  step(`${given} questions answered`);
  if (given < 10) problem('fewer than ten questions');
  if (!/repair|replace|leave/i.test(await first.textContent('#verdict'))) problem('no verdict after the questions');
  step('the verdict: ' + (await first.textContent('#verdict')).slice(0, 60));
  await lookAround(first, 'questions');
  await validatePage('questions', first);
  await first.setViewportSize({ width: 360, height: 740 });
  const price = first.locator('#sliders input[data-key="replacement.1.price"]');
  await price.focus();
  const before = await first.textContent('#lead');
  for (let i = 0; i < 5; i += 1) await move(first, () => price.press('ArrowLeft'), false);
  await settled(first);
  step('a price moved');
  if (await first.textContent('#lead') === before) problem('the answer stays whatever is moved');
  await first.click('#save-menu > summary');
  await first.fill('#save-name', 'lamp.toml');
  await first.click('#save');
  await first.waitForFunction(() => document.querySelector('#told').textContent.includes('saved'));
  await compare(first, 'lamp.toml', {}, 'of the questions\' case');
  step('the case saved');
  await first.click('#end');
  await first.waitForFunction(() => document.body.classList.contains('ended'));
  await look(first, 'ended 360');
  await first.close();
  // A case that a shop quotes: of such a lamp the owner would lose by the repair.
  const counter = await serve('case.toml', '--shop', path.join(project, 'examples', 'shop.toml'), ...settings);
  const desk = await browser.newPage({ viewport: { width: 768, height: 1024 } });
  watch(desk, counter, 'quote', complaint);
  await desk.goto(counter);
  await settled(desk);
  await desk.click('#counter');
  await desk.waitForFunction(() => document.querySelector('#quote').textContent.includes('To pay'), null, patient);
  await leavePdf(desk, 'first quote');
  step('a quote printed');
  await browser.close();

  for (const [kind, list] of Object.entries(times)) {
    list.sort((a, b) => a - b);
    console.log(`${kind} answers: median ${Math.round(list[Math.floor(list.length / 2)])} ms, slowest ${Math.round(list.at(-1))} ms, of ${list.length}`);
  }
  end();
})().catch((error) => { console.error(error); process.exit(1); });
