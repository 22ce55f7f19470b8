/** The fleet page: is anything going wrong in my halls right now, and what do I do first? */

import { SIGNALS, figureTitle, functionsIn, shareOf, signalWord, words } from './catalogue.js';
import { byId, h, setAttribute, setDrawing, setText } from './dom.js';
import { ORDER_KEYS, addressOfView, matching, ordered, signalCode, signalReason, summary, viewFromAddress } from './fleet-model.js';
import { FleetRow } from './fleet-row.js';
import { age, number, plural } from './format.js';
import { Live } from './live.js';
import { get, siteZone } from './service.js';
import { Shell } from './shell.js';
import { signalSymbol } from './symbols.js';
import { shownPercent } from './units.js';
import { VirtualRows } from './virtual-rows.js';

const REORDER_EVERY_MS = 10_000;
const CALM_AFTER_POINTER_MS = 4_000;

const shell = new Shell();
const units = new Map();
let functions = [];
let view = viewFromAddress(location.search);
let shownIds = [];
let orderedAt = 0;
let pointerAt = 0;
let drawRequested = false;

const rows = new VirtualRows(byId('rows'), byId('row-probe'), () => new FleetRow(functions));

async function snapshot() {
  const fleet = await get('/api/v1/fleet');
  shell.heard(fleet.at);
  shell.zone = await siteZone(fleet.site ?? { zone: 'Z' });
  setText(byId('site'), fleet.site?.name);
  units.clear();
  fleet.units.forEach((unit) => units.set(unit.id, unit));
  orderedAt = 0;
  draw();
  restorePlace();
  return fleet.at;
}

function take(message) {
  if (message.type !== 'fleet') return;
  shell.heard(message.at);
  message.units.forEach((unit) => units.set(unit.id, unit));
  requestDraw();
}

function requestDraw() {
  if (drawRequested) return;
  drawRequested = true;
  requestAnimationFrame(() => {
    drawRequested = false;
    draw();
  });
}

function draw() {
  const all = [...units.values()];
  const now = shell.now();
  showColumns(all);
  const facts = summary(all, now);
  showHeadline(facts);
  showStrip(facts);
  showFilters(all, facts);
  showRows(all, now);
  if (byId('fleet').getAttribute('aria-busy') === 'true') {
    byId('fleet').setAttribute('aria-busy', 'false');
    // After the frame that draws the first rows.
    requestAnimationFrame(() => setTimeout(() => performance.mark('useful')));
  }
}

function showColumns(all) {
  const present = functionsIn(all);
  if (present.map((each) => each.key).join() === functions.map((each) => each.key).join()) return;
  functions = present;
  byId('fleet').style.setProperty('--functions', functions.length);
  setAttribute(byId('fleet'), 'data-functions', functions.length);
  const head = byId('head');
  head.querySelectorAll('.c-function').forEach((cell) => cell.remove());
  head.querySelector('.c-due').after(...functions.map((each) => h('div', { role: 'columnheader', class: 'c-function' }, columnTitle(each, all))));
  setAttribute(byId('fleet'), 'aria-colcount', 7 + functions.length);
  rows.reset();
}

/** A function that is judged by something else than a reserve is named after that. */
function columnTitle({ key, title }, all) {
  const figure = all.flatMap((unit) => unit.functions ?? []).find((each) => each.function === key && each.reserve)?.reserve;
  return figure && !figure.key.endsWith('-reserve') ? figureTitle(figure.key) : title;
}

/** Order is kept for a while, and under a moving pointer, so that a row does not slip away from whoever aims at it. */
function showRows(all, now) {
  const wall = Date.now();
  if (wall - orderedAt > REORDER_EVERY_MS && wall - pointerAt > CALM_AFTER_POINTER_MS) {
    shownIds = ordered(matching(all, view, now), view.order || 'reserve').map((unit) => unit.id);
    orderedAt = wall;
  }
  rows.show(shownIds.map((id) => units.get(id)).filter(Boolean), now);
  setAttribute(byId('fleet'), 'aria-rowcount', shownIds.length + 1);
  byId('none').hidden = shownIds.length > 0 || all.length === 0;
  byId('no-units').hidden = all.length > 0;
  const filtered = shownIds.length !== all.length;
  setText(byId('count'), filtered ? `${shownIds.length} of ${plural(all.length, 'unit')} shown` : '');
  byId('clear').hidden = !(view.q || view.hall || view.supplier || view.signal);
}

function headline({ total, flagged, silent, neverHeard, counts }) {
  if (total === 0) return 'No units are set up';
  if (neverHeard === total) return `${plural(total, 'unit')}, none heard yet`;
  if (silent.length === total) return `${plural(total, 'unit')}, all silent: nothing here is fresh`;
  const unjudged = counts.get('not-judged') ?? 0;
  const quiet = total - flagged.length - unjudged;
  return [plural(total, 'unit'), quiet === total ? 'nothing to do' : `${quiet} with nothing to do`,
    flagged.length ? `${flagged.length} to look at` : null, unjudged ? `${unjudged} not judged now` : null].filter(Boolean).join(', ');
}

function showHeadline(facts) {
  const { total, flagged, first, silent, neverHeard } = facts;
  setText(byId('headline'), headline(facts));
  document.title = flagged.length ? `${flagged.length} to look at · Fleet · Loopwarden` : 'Fleet · Loopwarden';
  byId('first').hidden = !first || neverHeard === total;
  if (!byId('first').hidden) {
    const code = signalCode(first);
    setDrawing(byId('first-symbol'), code, () => signalSymbol(code));
    setText(byId('first-link'), first.id);
    setAttribute(byId('first-link'), 'href', `/unit.html?id=${encodeURIComponent(first.id)}`);
    setText(byId('first-word'), signalWord(code));
    byId('first-word').dataset.signal = code;
    setText(byId('first-reason'), signalReason(first) && `: ${signalReason(first)}`);
  }
  byId('silent').hidden = silent.length === 0 || silent.length === total;
  setText(byId('silent-link'), silent.length ? `${plural(silent.length, 'unit')} silent` : '');
  setText(byId('silent-units'), silent.length ? `: ${list(silent.map((unit) => unit.id))}${silent.some((unit) => unit.lastSampleAt) ? '; figures shown are old.' : '.'}` : '');
}

const list = (ids) => (ids.length > 4 ? `${ids.slice(0, 4).join(', ')} and ${ids.length - 4} more` : ids.join(', '));

function showStrip({ total, judgedForRated, couldCarryRated, least, dutyW, dutyUnits, ratedW, silent, neverHeard, oldestMs }) {
  setText(byId('rated-count'), judgedForRated ? `${couldCarryRated} of ${judgedForRated}` : 'not known');
  setText(byId('rated-words'), 'could carry rated duty at rated approach today'
    + (judgedForRated < total ? `; ${total - judgedForRated} cannot be judged now` : ''));
  setText(byId('least-unit'), least ? least.unit.id : 'not known');
  setAttribute(byId('least-unit'), 'href', least ? `/unit.html?id=${encodeURIComponent(least.unit.id)}` : null);
  const percent = least && shownPercent(least.least.reserve);
  setText(byId('least-words'), least ? `has the least reserve: ${words(least.least.function)} at ${percent.value} ± ${percent.band} % ${shareOf(least.least.reserve.key)}` : 'no unit has a known reserve');
  setText(byId('heat-now'), dutyUnits ? `${number(dutyW / 1e6, 2)} MW` : 'not known');
  setText(byId('heat-words'), dutyUnits ? `carried now, ${number(100 * dutyW / ratedW, 0)} % of the ${number(ratedW / 1e6, 1)} MW rated`
    + (dutyUnits < total ? ` of ${dutyUnits} units` : '') : 'no unit has a known duty');
  setText(byId('reporting'), `${total - silent.length} of ${total}`);
  setText(byId('reporting-words'), neverHeard ? `report; ${neverHeard} never heard` : `report; oldest figure ${age(oldestMs)} old`);
}

function showFilters(all, { counts, silent }) {
  fillSelect(byId('hall'), 'both halls', all.map((unit) => unit.hall), view.hall);
  fillSelect(byId('supplier'), 'all suppliers', all.map((unit) => unit.supplier), view.supplier);
  const quietView = view.signal !== 'good';
  const quiet = view.signal !== 'silent';
  const chips = [...SIGNALS.filter(({ code }) => code !== 'good' || !quietView).map(({ code, word }) => ({ code, word, count: counts.get(code) ?? 0 })),
    { code: 'unknown', word: 'not known', count: counts.get('unknown') ?? 0 },
    { code: 'silent', word: 'silent', count: silent.length }]
    .filter(({ code, count }) => view.signal === code || (count > 0 && !(code === 'silent' && quiet)));
  const key = chips.map(({ code, count }) => `${code}${count}`).join() + view.signal;
  setChips(byId('signals'), key, chips);
}

function setChips(node, key, chips) {
  if (node.drawingKey === key) return;
  node.drawingKey = key;
  const focused = node.contains(document.activeElement) ? document.activeElement.dataset.code : null;
  node.replaceChildren(...chips.map(({ code, word, count }) => h('button', { type: 'button', class: 'chip', 'data-code': code,
    'aria-pressed': String(view.signal === code), onclick: () => change({ signal: view.signal === code ? '' : code }) },
  code === 'silent' ? null : signalSymbol(code), h('span', {}, word), h('b', {}, String(count)))));
  if (focused) node.querySelector(`[data-code="${CSS.escape(focused)}"]`)?.focus();
}

function fillSelect(select, everything, values, chosen) {
  const options = [...new Set([...values, ...(chosen ? [chosen] : [])])].sort();
  const first = options.length === 2 ? everything : everything.replace('both', 'all');
  const key = options.join('\n');
  if (select.optionsKey !== key) {
    select.optionsKey = key;
    select.replaceChildren(h('option', { value: '' }, first), ...options.map((value) => h('option', { value }, value)));
  }
  if (select.value !== chosen) select.value = chosen;
}

/** Every change of the view is kept in the address, so that the address can be sent to a colleague. */
function change(part) {
  view = { ...view, ...part };
  history.replaceState(history.state, '', addressOfView(view));
  orderedAt = 0;
  pointerAt = 0;
  if (scrollY > byId('fleet').offsetTop) scrollTo(0, byId('fleet').offsetTop);
  draw();
}

/** Coming back from a unit finds the same row at the same place. */
function restorePlace() {
  const place = history.state?.place;
  if (!place) return;
  history.replaceState(null, '');
  requestAnimationFrame(() => {
    scrollTo(0, place.scrollY);
    rows.draw(false);
    const at = rows.index.get(place.unit);
    if (at !== undefined) rows.focus(at);
  });
}

function wire() {
  const search = byId('q');
  search.value = view.q;
  byId('order').value = ORDER_KEYS.includes(view.order) ? view.order : 'reserve';
  search.addEventListener('input', () => change({ q: search.value.trim() }));
  byId('hall').addEventListener('change', (event) => change({ hall: event.target.value }));
  byId('supplier').addEventListener('change', (event) => change({ supplier: event.target.value }));
  byId('order').addEventListener('change', (event) => change({ order: event.target.value === 'reserve' ? '' : event.target.value }));
  byId('silent-link').addEventListener('click', (event) => {
    event.preventDefault();
    change({ signal: 'silent' });
  });
  byId('clear').addEventListener('click', () => {
    search.value = '';
    change({ q: '', hall: '', supplier: '', signal: '' });
    search.focus();
  });
  byId('filter-toggle').addEventListener('click', (event) => {
    const open = byId('filters').classList.toggle('open');
    event.currentTarget.setAttribute('aria-expanded', String(open));
  });
  byId('rows').addEventListener('pointermove', () => { pointerAt = Date.now(); }, { passive: true });
  byId('rows').addEventListener('click', (event) => {
    const unit = event.target.closest('[role=row]')?.row?.id;
    if (unit && event.target.closest('a')) history.replaceState({ place: { unit, scrollY } }, '');
  });
  addEventListener('keydown', keys);
}

function keys(event) {
  const typing = event.target.matches('input, select, textarea');
  if (event.key === '/' && !typing && !event.ctrlKey && !event.metaKey) {
    event.preventDefault();
    byId('filters').classList.add('open');
    byId('q').focus();
    byId('q').select();
  } else if (event.target === byId('q') && event.key === 'Escape') {
    byId('q').value = '';
    change({ q: '' });
  } else if (event.target === byId('q') && (event.key === 'ArrowDown' || event.key === 'Enter')) {
    event.preventDefault();
    rows.focus(0);
    if (event.key === 'Enter' && rows.items.length === 1) document.activeElement.row?.link.click();
  } else if (event.key === 'ArrowDown' && event.target === document.body) {
    event.preventDefault();
    rows.focus(rows.index?.get(rows.current) ?? 0);
  }
}

wire();
new Live({ subscription: {}, snapshot, message: take, state: (state) => shell.connection(state) }).connect();
setInterval(requestDraw, 1000);
