/** The trend page: how did it come to this, what will it be, did the work help? */

import { POINT_GROUP_ORDER, pointGroup } from './catalogue.js';
import { byId, h, setText } from './dom.js';
import { download } from './download.js';
import { dateAndTime, plural, siteTime } from './format.js';
import { workTitle } from './maintenance-words.js';
import { Plot } from './plot.js';
import { get, siteZone } from './service.js';
import { Shell } from './shell.js';
import { csv, forecasts, lookOf, series, titleOf } from './trend-data.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const SPANS = [['1h', '1 hour', HOUR], ['24h', '24 hours', DAY], ['7d', '7 days', 7 * DAY], ['30d', '30 days', 30 * DAY], ['90d', '90 days', 90 * DAY], ['1y', '1 year', 365 * DAY]];
const MOST_UNITS = 6;
const MOST_SHOWN = 6;
const LEAST_MS = 2 * 60_000;
const AGAIN_MS = 30_000;

const shell = new Shell();
let fleet = { units: [] };
let quantities = new Map();
let plots = [];
let drawnWith = [];
let asked = 0;
let lostSince = null;

const view = { from: 0, to: 0, now: 0, zone: 'Z', cursorAt: null, cursor: moveCursor, zoom, wider: () => zoom(view.from - (view.to - view.from) / 2, view.to + (view.to - view.from) / 2) };
const chosen = fromAddress();

function fromAddress() {
  const query = new URLSearchParams(location.search);
  const list = (name, most) => [...new Set((query.get(name) ?? '').split(',').filter(Boolean))].slice(0, most);
  const times = ['from', 'to'].map((name) => Date.parse(query.get(name)));
  return { units: list('units', MOST_UNITS), shown: list('show', MOST_SHOWN), span: SPANS.some(([key]) => key === query.get('span')) ? query.get('span') : '24h',
    fixed: times.every(Number.isFinite) && times[0] < times[1] ? times : null };
}

function toAddress() {
  const query = new URLSearchParams();
  query.set('units', chosen.units.join(','));
  query.set('show', chosen.shown.join(','));
  if (chosen.fixed) ['from', 'to'].forEach((name, n) => query.set(name, new Date(chosen.fixed[n]).toISOString().replace(/\.\d+Z/, 'Z')));
  else query.set('span', chosen.span);
  history.replaceState(null, '', `?${query.toString().replaceAll('%2C', ',').replaceAll('%3A', ':')}`);
}

async function begin() {
  try {
    fleet = await get('/api/v1/fleet');
    shell.heard(fleet.at);
    shell.zone = await siteZone(fleet.site);
    view.zone = shell.zone;
    setText(byId('site'), fleet.site?.name);
    byId('all-units').replaceChildren(...fleet.units.map((unit) => h('option', { value: unit.id }, `${unit.supplier} ${unit.model}`)));
    if (chosen.units.length === 0 && fleet.units.length) chosen.units = [fleet.units[0].id];
    if (chosen.shown.length === 0) chosen.shown = ['heat-transfer-reserve', 'fws.valve.position'];
    await learnQuantities();
    await show();
  } catch (error) {
    lost(error);
    setTimeout(begin, 3000);
  }
}

/** What the first unit has to show; the others are taken to be alike. */
async function learnQuantities() {
  if (!chosen.units.length) return;
  const unit = await get(`/api/v1/units/${encodeURIComponent(chosen.units[0])}`);
  quantities = new Map();
  Object.values(unit.figures ?? {}).forEach((figure) => quantities.set(figure.key, { ucum: figure.unit, group: 'figures' }));
  [...unit.points ?? []].sort((a, b) => a.point.localeCompare(b.point)).forEach((point) => quantities.set(point.point, { ucum: point.unit, quantity: point.quantity, group: pointGroup(point.point) }));
  const groups = ['figures', ...POINT_GROUP_ORDER];
  byId('add-shown').replaceChildren(h('option', { value: '' }, 'add a quantity'), ...groups.map((group) => {
    const members = [...quantities].filter(([key, each]) => each.group === group && !chosen.shown.includes(key));
    return members.length ? h('optgroup', { label: group }, ...members.map(([key]) => h('option', { value: key }, titleOf(key)))) : null;
  }));
}

function lost(error) {
  lostSince ??= Date.now();
  shell.connection({ connected: false, since: lostSince, error });
}

/** Asks for everything that is chosen and draws it; an answer that comes after a newer question is left. */
async function show() {
  const turn = ++asked;
  toAddress();
  const span = SPANS.find(([key]) => key === chosen.span)[2];
  [view.from, view.to] = chosen.fixed ?? [shell.now() - span, shell.now()];
  showChoices();
  const width = Math.max(200, Math.min(1400, Math.round(byId('plots').clientWidth - 90)));
  try {
    const [data, work, ahead] = await Promise.all([
      Promise.all(chosen.shown.map((key) => Promise.all(chosen.units.map((unit) => series(unit, key, view.from, view.to, width))))),
      get('/api/v1/maintenance'),
      Promise.all(chosen.units.map((unit) => forecasts(unit))),
    ]);
    if (turn !== asked) return;
    lookAhead(span, ahead.flat());
    if (lostSince) shell.connection({ connected: true });
    lostSince = null;
    draw(data, work.filter((entry) => chosen.units.includes(entry.unit) && !entry.withdrawn && entry.kind !== 'withdrawal'), ahead.flat());
  } catch (error) {
    if (turn === asked) lost(error);
  }
}

/** Where a limit will be reached, the time shown goes on until then, as far as that leaves the past its room. */
function lookAhead(span, ahead) {
  view.now = shell.now();
  if (chosen.fixed) return;
  const ends = ahead.filter((fan) => chosen.shown.includes(fan.figure) && fan.lower80 !== null).map((fan) => fan.upper80 ?? fan.lower80);
  if (ends.length) view.to = Math.max(view.to, Math.min(view.to + 0.7 * span, Math.max(...ends) + 0.03 * span));
}

function draw(data, work, ahead) {
  const marks = work.map((entry) => ({ at: Date.parse(entry.from), until: Date.parse(entry.until), text: `${entry.unit}: ${workTitle(entry)}`, entry })).filter((mark) => mark.until >= view.from && mark.at <= view.to);
  drawnWith = chosen.shown.map((key, n) => ({ key, ucum: quantities.get(key)?.ucum ?? data[n][0]?.ucum, lines: data[n] }));
  plots = drawnWith.map(({ key, ucum, lines }) => {
    const size = Math.max(0, ...lines.flatMap((line) => line.buckets.map((b) => Math.abs(b.max ?? 0))));
    return new Plot(key, lookOf(key, ucum, quantities.get(key)?.quantity, size), lines, marks, ahead.filter((fan) => fan.figure === key), view);
  });
  byId('plots').replaceChildren(...plots.map((plot) => plot.node));
  layout();
  showWords(ahead, marks);
  performance.mark('drawn');
}

function layout() {
  const width = byId('plots').clientWidth;
  const height = plots.length > 3 ? 150 : 210;
  plots.forEach((plot) => plot.draw(Math.max(300, plot.holder.clientWidth || width - 30), height));
}

function showWords(ahead, marks) {
  const what = chosen.shown.length === 1 ? titleOf(chosen.shown[0]) : plural(chosen.shown.length, 'quantity', 'quantities');
  const soonest = ahead.filter((each) => each.median !== null).sort((a, b) => a.median - b.median)[0];
  setText(byId('headline'), soonest ? `${soonest.unit} reaches its limit of ${titleOf(soonest.figure).toLowerCase()} in ${Math.max(0, Math.round((soonest.median - shell.now()) / DAY))} days`
    : `${what} of ${chosen.units.join(', ') || 'no unit'}`);
  setText(byId('about'), soonest ? `80 % interval ${day(soonest.lower80)} to ${soonest.upper80 === null ? 'not within two years' : day(soonest.upper80)}.` : '');
  setText(byId('range'), `${dateAndTime(view.from, view.zone)} to ${dateAndTime(view.to, view.zone)}`);
  byId('forecasts').hidden = ahead.length === 0;
  byId('forecast-rows').replaceChildren(...ahead.map((each) => h('tr', {}, h('th', { scope: 'row' }, each.unit), h('td', {}, titleOf(each.figure)),
    h('td', {}, each.median === null ? h('span', { class: 'sub' }, each.reason ?? 'not within two years') : day(each.median)), h('td', {}, interval(each.lower80, each.upper80)), h('td', {}, interval(each.lower95, each.upper95)), h('td', {}, each.form ?? ''))));
  byId('work').hidden = marks.length === 0;
  byId('work-list').replaceChildren(...marks.map((mark) => h('li', {}, `${dateAndTime(mark.at, view.zone)}  ${mark.text}`, mark.entry.note ? h('span', { class: 'sub' }, ` ${mark.entry.note}`) : null)));
}

const day = (time) => (time === null ? 'not within two years' : siteTime(time, view.zone).date);
const interval = (early, late) => (early === null && late === null ? '' : `${day(early)} to ${late === null ? 'beyond two years' : day(late)}`);

function showChoices() {
  picked('units', chosen.units, (unit) => unit, (unit) => change({ units: chosen.units.filter((each) => each !== unit) }));
  picked('shown', chosen.shown, titleOf, (key) => change({ shown: chosen.shown.filter((each) => each !== key) }));
  byId('add-unit').disabled = chosen.units.length >= MOST_UNITS;
  byId('add-shown').disabled = chosen.shown.length >= MOST_SHOWN;
  byId('spans').replaceChildren(...SPANS.map(([key, text]) => h('button', { type: 'button', 'data-span': key, 'aria-pressed': String(!chosen.fixed && chosen.span === key), onclick: () => change({ span: key, fixed: null }) }, text)));
}

function picked(id, all, title, remove) {
  byId(id).replaceChildren(...all.map((each) => h('li', {}, h('span', {}, title(each)), all.length > 1
    ? h('button', { type: 'button', 'aria-label': `Take away ${title(each)}`, onclick: () => remove(each) }, '×') : null)));
}

async function change(part) {
  const held = document.activeElement?.dataset?.span;
  const unitsBefore = chosen.units[0];
  Object.assign(chosen, part);
  if (chosen.units[0] !== unitsBefore || part.shown) await learnQuantities().catch(lost);
  await show();
  if (held) byId('spans').querySelector(`[data-span="${held}"]`)?.focus();
}

function zoom(from, to) {
  const middle = (from + to) / 2;
  const half = Math.min(5 * 365 * DAY, Math.max(LEAST_MS, to - from)) / 2;
  change({ fixed: [Math.round(middle - half), Math.round(middle + half)] });
}

function moveCursor(at) {
  view.cursorAt = at;
  plots.forEach((plot) => plot.cursor(at));
  setText(byId('cursor'), at === null ? '' : `· at ${dateAndTime(at, view.zone)}`);
}

function shift(share) {
  const span = view.to - view.from;
  change({ fixed: [view.from + share * span, view.to + share * span].map(Math.round) });
}

function wire() {
  byId('add-unit').addEventListener('change', (event) => {
    const id = event.target.value.trim();
    event.target.value = '';
    const known = fleet.units.find((unit) => unit.id.toLowerCase() === id.toLowerCase());
    if (known && !chosen.units.includes(known.id)) change({ units: [...chosen.units, known.id] });
  });
  byId('add-shown').addEventListener('change', (event) => event.target.value && change({ shown: [...chosen.shown, event.target.value] }));
  byId('earlier').addEventListener('click', () => shift(-0.5));
  byId('later').addEventListener('click', () => shift(0.5));
  byId('wider').addEventListener('click', () => view.wider());
  byId('csv').addEventListener('click', () => download(`loopwarden-${chosen.units.join('-')}-${new Date(view.from).toISOString().slice(0, 10)}.csv`, 'text/csv', csv(drawnWith)));
  let waiting = 0;
  addEventListener('resize', () => {
    cancelAnimationFrame(waiting);
    waiting = requestAnimationFrame(layout);
  });
  setInterval(() => {
    if (!document.hidden && (!chosen.fixed || lostSince) && view.cursorAt === null) show();
  }, AGAIN_MS);
}

wire();
begin();
