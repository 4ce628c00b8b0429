'use strict';
// node reports.js PROGRAM PROJECT: makes each kind of report of the examples and looks at it the way a browser, a screen
// reader and a printer do.
const fs = require('fs');
const os = require('os');
const path = require('path');
const { spawnSync } = require('child_process');
const { pathToFileURL } = require('url');
const { end, launch, lookAround, problem, validateFile, watch } = require('./browser.js');
const { compareWeighing } = require('./charts.js');

const [program, project] = process.argv.slice(2);
const inExamples = (...names) => names.map((name) => path.join(project, 'examples', name));
const [recorder, metronome, scanner, fleet, shop, record] = inExamples('field-recorder.toml', 'stage-metronome.toml',
  'stock-scanner.toml', 'keypad-fleet.toml', 'shop.toml', 'history/bench-record.csv');
const reports = {
  weigh: ['weigh', recorder, '--futures', '500'],
  beside: ['weigh', metronome, '--against', 'labour.rate_per_hour,replacement.1.price', '--futures', '500'],
  rows: ['rows', ...inExamples('stock-scanner.toml', 'tables/scanners.csv')],
  curve: ['weigh', scanner, '--vary', 'replacement.price=60:180:3', '--futures', '200'],
  'curve over two': ['weigh', scanner, '--vary', 'labour.rate_per_hour=20:60:2', '--vary', 'device.age_years=2:8:2', '--futures', '200'],
  buy: ['buy', metronome],
  bulk: ['bulk', fleet],
  lifetime: ['lifetime', record],
  quote: ['quote', recorder, '--shop', shop],
  'shop quote': ['quote', recorder, '--shop', shop, '--page', 'shop', '--show', 'all'],
};
const chapters = ['What to do, and how sure that is', 'The money side by side', 'What would turn it', 'What to find out first',
  'What to order', 'How the parts age', 'How it was worked out', 'Cautions'];

const work = fs.mkdtempSync(path.join(os.tmpdir(), 'reports-'));
process.on('exit', () => fs.rmSync(work, { recursive: true }));

function run(words) {
  const { status, stdout, stderr } = spawnSync(program, words, { encoding: 'utf8', maxBuffer: 1 << 27 });
  if (status !== 0) problem(`${words.join(' ')}: exit code ${status}: ${stderr.slice(0, 300)}`);
  return status === 0 ? stdout : null;
}

/** Runs in the page: pictures without a title, a description or a name for each of their scales. */
function wordless() {
  return [...document.querySelectorAll('figure')].flatMap((figure) => {
    const title = figure.querySelector('figcaption strong')?.textContent || figure.closest('section').querySelector('h2, h3').textContent;
    const said = figure.querySelector('figcaption').lastChild.textContent.trim();
    const drawn = figure.querySelector('svg');
    return [[said, 'words'], [drawn.querySelector('title')?.textContent, 'a title'], [drawn.querySelector('desc')?.textContent, 'a description'],
      [drawn.querySelector('text.soft'), 'a scale']].filter(([there]) => !there).map(([, what]) => `${title}: a picture without ${what}`);
  });
}

(async () => {
  const browser = await launch();
  for (const [name, words] of Object.entries(reports)) {
    const begin = Date.now();
    const html = run([...words, '--format', 'html']);
    if (!html) continue;
    const file = path.join(work, name.replaceAll(' ', '-') + '.html');
    fs.writeFileSync(file, html);
    validateFile(name, html);
    if (/<script|<link|<iframe|\son\w+=|https?:\/\//i.test(html)) problem(`${name}: has a script, or something to fetch`);
    const url = pathToFileURL(file).href;
    const page = await browser.newPage();
    watch(page, url, name);
    await page.goto(url);
    await page.evaluate(() => document.querySelectorAll('details').forEach((fold) => { fold.open = true; }));
    if (words[0] === 'weigh' && !words.includes('--vary')) {
      const headings = await page.$$eval('h2', (all) => all.map((h) => h.textContent));
      const order = headings.filter((h) => chapters.includes(h));
      const wanted = chapters.filter((h) => order.includes(h));
      if (order.join() !== wanted.join() || order.length < 6) problem(`${name}: chapters are ${headings.join(' | ')}`);
      const charts = await compareWeighing(page, name, JSON.parse(run([...words, '--format', 'json'])));
      console.log(`${name}: ${charts} charts have the numbers of the JSON`);
    }
    for (const what of await page.evaluate(wordless)) problem(`${name}: ${what}`);
    await lookAround(page, name);
    await page.close();
    console.log(`${name}: ${((Date.now() - begin) / 1000).toFixed(1)} s`);
  }
  await browser.close();
  end();
})().catch((error) => { console.error(error); process.exit(1); });
