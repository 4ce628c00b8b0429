'use strict';
// Whether the numbers folded under each chart are those of the answer as JSON.
const { problem } = require('./browser.js');

/** "1234.50", "8.6 %", "-": a number; null where it is none. */
function read(text) {
  const plain = text.replaceAll(/[\s\u00a0\u202f]/g, '').replaceAll('\u2212', '-');
  const found = /^(-?\d+(?:\.\d+)?)(%?)$/.exec(plain);
  if (!found) return null;
  const last = 10 ** -(found[1].split('.')[1] || '').length;
  const part = found[2] ? 0.01 : 1;
  return { value: Number(found[1]) * part, half: last * part / 2 };
}

/** As many digits as are written agree; nothing is written for what is not there. */
function agrees(text, value) {
  const shown = read(text);
  if (!shown) return text === '-' && (value === null || value === undefined || value === 0);
  return typeof value === 'number' && Math.abs(shown.value - value) <= shown.half * (1 + 1e-6);
}

/** The tables under the charts, by the chart's title: rows of cells, the heading first. */
const tables = (page) => page.evaluate(() => Object.fromEntries([...document.querySelectorAll('figure')].map((figure) => [
  figure.querySelector('figcaption strong').textContent,
  [...figure.querySelectorAll('tr')].map((row) => [...row.cells].map((cell) => cell.textContent))])));

const columns = (rows, from = 1) => rows.map((row) => row.slice(from));

// In the order of the rows.
const moneyGoesTo = ['parts', 'shipping', 'labour', 'risk', 'later_visits', 'purchase', 'next_device', 'downtime', 'burden', 'keepsake',
  'leftovers', 'resale', 'benefit'].map((name) => name + '_cost');

/** What each chart of `weigh` must say: title, its rows without headings and names, and a matrix of numbers. */
function ofWeighing(answer) {
  const wanted = [];
  const wants = (title, numbers, first = 1) => wanted.push({ title, numbers, first });
  if (answer.saving_bins) wants(/^What repairing saves, over all/, answer.saving_bins.map((b) => [b.low_amount, b.high_amount, b.share]), 0);
  if (answer.cost_in_time) wants(/^Cost so far/, answer.cost_in_time.repair.map((r, i) => [r, answer.cost_in_time.replacement[i]]).map(([r, o]) =>
    [r.years, r.expected_cost, r.p10_cost, r.p90_cost, o.expected_cost, o.p10_cost, o.p90_cost]), 0);
  for (const mates of answer.mate_survival || []) wants(new RegExp('^How the working originals go on: ' + mates.part),
    mates.points.map((p) => [p.years, p.after_share, p.before_share]), 0);
  return wanted;
}

/** Every chart of the page against the JSON of the same answer; which charts were compared. */
async function compareWeighing(page, where, answer) {
  const shown = await tables(page);
  let compared = 0;
  const check = (title, text, value, what) => { if (!agrees(text, value)) problem(`${where}: ${title}: ${what} is ${text}, not ${value}`); };
  const take = (title) => {
    const name = Object.keys(shown).find((other) => title.test(other));
    if (!name) { problem(`${where}: there is no chart ${title}`); return null; }
    compared += 1;
    return shown[name];
  };
  for (const { title, numbers, first } of ofWeighing(answer)) {
    const rows = take(title);
    if (!rows) continue;
    if (rows.length - 1 !== numbers.length) problem(`${where}: ${title}: ${rows.length - 1} rows, not ${numbers.length}`);
    columns(rows.slice(1), first).forEach((row, i) => row.forEach((text, j) => check(title, text, (numbers[i] || [])[j], `row ${i + 1}, column ${j + 1}`)));
  }
  // Rows are what the money goes to, columns the courses; what nobody pays is left out.
  const costs = take(/^What each course costs/);
  if (costs) {
    const courses = costs[0].slice(1).map((name) => answer.options.find((option) => option.name === name));
    const keys = moneyGoesTo.filter((key) => courses.some((course) => course.made_of[key] !== 0));
    if (costs.length !== keys.length + 2) problem(`${where}: the courses have ${costs.length - 2} kinds of cost, not ${keys.length}`);
    keys.forEach((key, i) => courses.forEach((course, j) => check('courses', costs[i + 1][j + 1], course.made_of[key], `${key} of ${course.name}`)));
    courses.forEach((course, j) => check('courses', costs.at(-1)[j + 1], course.present_cost, 'total of ' + course.name));
  }
  const remark = /: (turns the answer|the owner can tell|a look inside tells|asking tells|only a shop's record tells|nobody can tell yet)$/;
  const row = (list, name) => list.find((one) => one.label === name.replace(remark, ''));
  for (const [name, low, high] of (answer.sensitivity || []).length ? (take(/^How far each number/) || []).slice(1) : []) {
    check('swings', low, row(answer.sensitivity, name).saving_at_low_amount, name);
    check('swings', high, row(answer.sensitivity, name).saving_at_high_amount, name);
  }
  const worth = answer.knowing && answer.knowing.inputs.some((one) => one.is_worth_something);
  for (const [name, text] of worth ? (take(/^What it is worth to find out/) || []).slice(1) : [])
    check('knowing', text, row(answer.knowing.inputs, name).worth_amount, name);
  if (compared < 3) problem(`${where}: only ${compared} charts`);
  return compared;
}

module.exports = { agrees, compareWeighing, tables };
