'use strict';
// The page holds nothing: the program has the case, this sends what is moved and shows what comes back.
(() => {
  const $ = (id) => document.getElementById(id);
  const restAfterMs = 120;  // what is still being moved is not worked out in full
  const typedAfterMs = 300;
  const aliveEveryMs = 15000;

  let state = { revision: 0, shape: '' };
  let gesture = 0;          // changes of one field in one go are undone together
  let sliders = '';         // as they came last
  let whole = 0, typing = 0;

  // ---- Requests

  function told(words) { $('told').textContent = words; }

  /** The answer as an object; null if it was refused, which is told, or overtaken by a later change. */
  async function ask(path, fields = {}, post = false) {
    const body = new URLSearchParams(fields).toString();
    let reply;
    try {
      reply = post
        ? await fetch(path, { method: 'POST', headers: { 'Content-Type': 'application/x-fields' }, body })
        : await fetch(body ? `${path}?${body}` : path);
    } catch {
      document.body.classList.add('ended');
      told('The program has ended. Start it again to go on.');
      return null;
    }
    const said = await reply.json();
    if (reply.ok) return said;
    if (reply.status !== 409) told(said.problem || 'That could not be done.');
    return null;
  }
  const act = (path, fields = {}) => ask(path, { shape: state.shape, revision: state.revision, ...fields }, true);

  // ---- Putting parts of the page in place

  /** New HTML in an element: what is focused, typed and unfolded in it stays so. */
  function put(element, html) {
    const active = document.activeElement;
    const within = active && element.contains(active);
    // Those without a name are told apart by their number.
    const all = () => [...element.querySelectorAll('details')].map((fold, i) => [fold.id || i, fold]);
    const folds = new Map(all().map(([name, fold]) => [name, fold.open]));
    const typed = within && active.matches('input[type=text], textarea')
      ? { value: active.value, from: active.selectionStart, to: active.selectionEnd } : null;
    element.innerHTML = html;
    for (const [name, fold] of all()) {
      if (folds.has(name)) fold.open = folds.get(name);
    }
    if (!within) return;
    const again = active.id ? $(active.id) : null;
    if (!again) { (element.tabIndex >= -1 && element.hasAttribute('tabindex') ? element : $('fields')).focus(); return; }
    again.focus({ preventScroll: true });
    if (typed && again.matches('input[type=text], textarea') && waits(again.name)) {
      again.value = typed.value;
      again.setSelectionRange(typed.from, typed.to);
    }
  }

  function showProblems(problems) {
    for (const element of document.querySelectorAll('.wrong')) element.textContent = '';
    for (const element of document.querySelectorAll('[aria-invalid]')) element.removeAttribute('aria-invalid');
    const list = document.createElement('ul');
    for (const problem of problems) {
      const field = problem.key ? $('f-' + problem.key) : null;
      const item = document.createElement('li');
      if (field) {
        const words = $('e-' + problem.key);
        words.textContent += (words.textContent ? ' ' : '') + problem.text;
        field.setAttribute('aria-invalid', 'true');
        const link = document.createElement('a');
        link.href = '#f-' + problem.key;
        link.dataset.to = 'f-' + problem.key;
        link.textContent = nameOf(problem.key);
        item.append(link, ': ' + problem.text);
      } else {
        item.textContent = problem.text;
      }
      list.append(item);
    }
    $('problems').replaceChildren();
    if (!problems.length) return;
    const head = document.createElement('p');
    head.textContent = problems.length === 1 ? 'To be mended before it can be weighed:'
      : `${problems.length} things to be mended before it can be weighed:`;
    $('problems').append(head, list);
  }

  function nameOf(key) {
    const label = document.querySelector(`label[for="${CSS.escape('f-' + key)}"]`);
    return label ? label.firstChild.textContent.trim() : key;
  }

  function reveal(element) {
    for (let fold = element.closest('details'); fold; fold = fold.parentElement.closest('details')) fold.open = true;
    element.focus();
  }

  // ---- The state of the case

  function took(next) {
    if (!next) return false;
    const moved = next.revision !== state.revision;
    if (next.form !== undefined) put($('fields'), next.form);
    delete next.form;
    state = next;
    if (next.answer) showLead(next.answer);
    document.body.dataset.revision = state.revision;
    $('name').textContent = '- ' + state.name;
    if (document.activeElement !== $('save-name')) $('save-name').value = state.name;
    $('undo').disabled = !state.undo;
    $('redo').disabled = !state.redo;
    $('pin').setAttribute('aria-pressed', String(state.pinned));
    $('pin').textContent = state.pinned ? 'Unpin' : 'Pin to compare';
    $('pin').disabled = !state.pinned && !state.answerable;
    $('quote-part').hidden = $('counter').hidden = !state.shop;
    showProblems(state.problems);
    $('answer').classList.toggle('stale', !state.answerable);
    return moved;
  }

  // ---- Answers: a quick one comes with the state, the whole one when nothing moves

  function showLead(answer) {
    put($('lead'), answer.lead);
    $('bar').firstElementChild.textContent = answer.verdict;
    document.body.dataset.quick = answer.revision;
  }

  async function inFull() {
    if (!state.answerable) return;
    $('answer').setAttribute('aria-busy', 'true');
    const answer = await ask('answer', { revision: state.revision });
    if (!answer || answer.revision !== state.revision) return;
    showLead(answer);
    put($('sections'), answer.sections);
    put($('comparison'), answer.comparison);
    showSliders(answer.sliders);
    if ($('verdict').textContent !== answer.verdict) $('verdict').textContent = answer.verdict;
    $('answer').removeAttribute('aria-busy');
    document.body.dataset.whole = answer.revision;
    await quote();
  }

  function soonInFull() {
    clearTimeout(whole);
    if (state.answerable) $('answer').setAttribute('aria-busy', 'true');
    whole = setTimeout(inFull, restAfterMs);
  }

  async function quote() {
    if (!state.shop || !state.answerable) return;
    const shopSide = $('shop-side').checked && !document.body.classList.contains('counter');
    const answer = await ask('quote', { revision: state.revision, shop: shopSide ? 1 : 0 });
    if (!answer || answer.revision !== state.revision) return;
    put($('quote'), answer.quote);
    document.body.dataset.quote = answer.revision;
  }

  /** A slider that is held stays as it is; its words follow. */
  function showSliders(html) {
    sliders = html;
    $('sliders-part').hidden = !html;
    const held = document.activeElement && document.activeElement.matches('#sliders input')
      ? document.activeElement : null;
    if (!held) { put($('sliders'), html); return; }
    const fresh = document.createElement('template');
    fresh.innerHTML = html;
    for (const old of $('sliders').querySelectorAll('.slider')) {
      const input = old.querySelector('input');
      const next = fresh.content.getElementById(input.id);
      if (!next) continue;
      const block = next.closest('.slider');
      if (input === held) {
        old.querySelector('.turn').textContent = block.querySelector('.turn').textContent;
      } else {
        old.replaceWith(block);
      }
    }
  }

  // ---- Changes: the latest of each field, one after the other

  const waiting = new Map();
  let sending = null;
  const waits = (key) => waiting.has(key) || typing !== 0;

  function change(key, value, shape = state.shape) {
    waiting.set(key, { value, gesture, shape });
    send();
  }

  async function sendAll() {
    while (waiting.size) {
      const [key, said] = waiting.entries().next().value;
      waiting.delete(key);
      took(await act('change', { key, ...said }));
    }
    sending = null;
    soonInFull();
  }
  function send() { sending = sending || sendAll(); }

  async function stepTo(path, fields = {}) {
    told('');
    const next = await act(path, fields);
    if (took(next)) soonInFull();
    return next;
  }

  function valueOf(element) {
    const boxes = element.closest('[data-boxes]');
    if (!boxes) return [element.name, element.value];
    const ticked = [...boxes.querySelectorAll('input:checked')].map((box) => box.value);
    return [boxes.dataset.boxes, ticked.join('\n')];
  }

  function flush(element) {
    clearTimeout(typing);
    typing = 0;
    const [key, value] = valueOf(element);
    if (key) change(key, value);
  }

  $('form').addEventListener('focusin', () => { gesture = Date.now(); });
  $('form').addEventListener('input', (event) => {
    if (!event.target.matches('input[type=text], textarea')) return;
    clearTimeout(typing);
    typing = setTimeout(flush, typedAfterMs, event.target);
  });
  $('form').addEventListener('change', (event) => flush(event.target));
  $('form').addEventListener('click', (event) => {
    const button = event.target.closest('button');
    if (!button) return;
    if (button.dataset.add) stepTo('add', { key: button.dataset.add });
    if (button.dataset.remove) stepTo('remove', { key: button.dataset.remove });
    if (button.dataset.unknown !== undefined) {
      const field = $('f-' + button.dataset.unknown);
      field.value = button.value;
      gesture = Date.now();
      flush(field);
    }
  });
  $('problems').addEventListener('click', (event) => {
    if (!event.target.dataset.to) return;
    event.preventDefault();
    reveal($(event.target.dataset.to));
  });

  // ---- Sliders

  $('sliders').addEventListener('pointerdown', () => { gesture = Date.now(); });
  $('sliders').addEventListener('focusin', () => { gesture = Date.now(); });
  $('sliders').addEventListener('input', (event) => {
    const { key } = event.target.dataset;
    event.target.parentElement.querySelector('output').textContent = event.target.value;
    const field = $('f-' + key);
    if (field) field.value = event.target.value;
    // A question that the slider answers has a field of another name.
    change(key, event.target.value, state.asking ? '' : state.shape);
  });
  $('sliders').addEventListener('focusout', () => setTimeout(() => {
    if (!$('sliders').contains(document.activeElement)) put($('sliders'), sliders);
  }));

  // ---- Tools

  $('undo').addEventListener('click', () => stepTo('undo'));
  $('redo').addEventListener('click', () => stepTo('redo'));
  document.addEventListener('keydown', (event) => {
    const inText = event.target.matches('input[type=text], textarea');
    if (!(event.ctrlKey || event.metaKey) || inText) return;
    const again = event.key === 'y' || (event.key.toLowerCase() === 'z' && event.shiftKey);
    if (event.key !== 'z' && !again) return;
    event.preventDefault();
    stepTo(again ? 'redo' : 'undo');
  });
  $('pin').addEventListener('click', async () => {
    const next = await act(state.pinned ? 'unpin' : 'pin');
    if (!next) return;
    took(next);
    inFull();
  });
  $('open-menu').addEventListener('toggle', async () => {
    const list = $('open-menu').open ? await ask('files') : null;
    if (list) $('open-name').replaceChildren(...list.files.map((name) => new Option(name, name)));
  });
  $('open').addEventListener('click', async () => {
    if (await stepTo('open', { name: $('open-name').value })) $('open-menu').open = false;
  });
  $('save').addEventListener('click', async () => {
    await sending;  // what was typed last
    const problems = state.problems.map(({ key, text }) => (key ? `${nameOf(key)}: ${text}` : text));
    if (problems.length && !state.asking
      && !confirm(`The case cannot be weighed as it stands:\n\n${problems.join('\n')}\n\nSave it all the same?`)) return;
    const next = await stepTo('save', { name: $('save-name').value, 'as-it-is': problems.length ? 1 : 0 });
    if (!next) return;
    $('save-menu').open = false;
    told(next.name + ': saved');
  });
  $('shop-side').addEventListener('change', quote);
  $('counter').addEventListener('click', () => {
    const on = document.body.classList.toggle('counter');
    $('counter').setAttribute('aria-pressed', String(on));
    quote();
  });
  $('end').addEventListener('click', async () => {
    if (!await act('end')) return;
    document.body.classList.add('ended');
    told('Ended. This page can be closed.');
  });
  // A menu folds when something else is done.
  const fold = (except) => {
    for (const menu of document.querySelectorAll('.menu[open]')) {
      if (menu.contains(except)) continue;
      if (menu.contains(document.activeElement)) menu.querySelector('summary').focus();
      menu.open = false;
    }
  };
  document.addEventListener('click', (event) => fold(event.target));
  document.addEventListener('keydown', (event) => { if (event.key === 'Escape') fold(null); });

  /** Everything anew: at the start, or when another window has changed the case. */
  async function begin() {
    if (took(await ask('state', { shape: '', revision: state.revision }))) await inFull();
  }

  setInterval(async () => {
    if (document.body.classList.contains('ended')) return;
    const there = await ask('alive', {}, true);
    if (there && there.revision !== state.revision && !sending && !typing) begin();
  }, aliveEveryMs);
  begin();
})();
