/** The maintenance page: what falls due, what was done, did it help? */

import { capital, figureTitle, pointTitle } from './catalogue.js';
import { byId, h, setText } from './dom.js';
import { dateAndTime, instantOf, localInput, plural, siteTime } from './format.js';
import { KINDS, kindTitle, partTitle, workTitle } from './maintenance-words.js';
import { get, send, siteZone } from './service.js';
import { Shell } from './shell.js';
import { rows } from './table.js';
import { shownFigure } from './units.js';

const EVERY_MS = 30_000;
const POINT_KINDS = ['calibration', 'reading'];

const shell = new Shell();
const results = new Map();
let fleet = { units: [] };
let entries = [];
let lostSince = null;

async function refresh() {
  try {
    if (!fleet.units.length) await begin();
    const [plan, log] = await Promise.all([get(planPath('plan')), get('/api/v1/maintenance')]);
    entries = log;
    if (lostSince) shell.connection({ connected: true });
    lostSince = null;
    showPlan(plan);
    showLog();
  } catch (error) {
    lostSince ??= Date.now();
    shell.connection({ connected: false, since: lostSince, error });
  }
}

async function begin() {
  fleet = await get('/api/v1/fleet');
  shell.heard(fleet.at);
  shell.zone = await siteZone(fleet.site);
  setText(byId('site'), fleet.site?.name);
  byId('units').replaceChildren(...fleet.units.map((unit) => h('option', { value: unit.id }, `${unit.supplier} ${unit.model}`)));
  const halls = [...new Set(fleet.units.map((unit) => unit.hall))].sort();
  byId('hall').replaceChildren(h('option', { value: '' }, 'all'), ...halls.map((hall) => h('option', { value: hall }, hall)));
  byId('from').value = localInput(shell.now(), shell.zone);
}

const planPath = (form) => `/api/v1/${form}?${new URLSearchParams({ days: byId('days').value, ...(byId('hall').value ? { hall: byId('hall').value } : {}) })}`;

function showPlan(jobs) {
  byId('ics').href = planPath('plan.ics');
  byId('plan-csv').href = planPath('plan.csv');
  const soon = jobs.filter((job) => Date.parse(job.due) < shell.now() + 30 * 86_400_000);
  setText(byId('headline'), jobs.length === 0 ? 'Nothing falls due in this time'
    : `${plural(jobs.length, 'job')} within ${byId('days').selectedOptions[0].textContent}, first ${jobs[0].unit}: ${jobs[0].work}${soon.length ? `; ${soon.length} within 30 days` : ''}`);
  rows('plan', jobs.map((job) => [h('a', { href: `/unit.html?id=${encodeURIComponent(job.unit)}` }, job.unit), capital(job.work), due(job),
    job.early ? `${day(job.early)} to ${day(job.late)}` : '', job.why]));
}

function due(job) {
  const days = Math.round((Date.parse(job.due) - shell.now()) / 86_400_000);
  return days <= 0 ? 'now' : `${day(job.due)}, in ${plural(days, 'day')}`;
}

const day = (instant) => siteTime(instant, shell.zone).date;

function showLog() {
  const unit = byId('log-unit').value.trim().toLowerCase();
  const kind = byId('log-kind').value;
  const seen = entries.filter((entry) => (!unit || entry.unit.toLowerCase().includes(unit)) && (!kind || entry.kind === kind) && (byId('log-withdrawn').checked || !(entry.withdrawn || entry.kind === 'withdrawal')))
    .sort((a, b) => Date.parse(b.from) - Date.parse(a.from) || Date.parse(b.writtenAt) - Date.parse(a.writtenAt));
  rows('log', seen.slice(0, 300).map((entry) => [logTitle(entry), h('a', { href: `/unit.html?id=${encodeURIComponent(entry.unit)}` }, entry.unit), span(entry), result(entry),
    entry.note, `${entry.by}, ${dateAndTime(entry.writtenAt, shell.zone).slice(0, 16)}`, undo(entry)]));
  [...byId('log').tBodies[0].rows].forEach((row, n) => row.classList.toggle('withdrawn', Boolean(seen[n].withdrawn)));
}

function logTitle(entry) {
  const part = entry.replacement;
  const about = part ? [part.supplier, part.model, part.serial && `serial ${part.serial}`].filter(Boolean).join(' ') : '';
  if (entry.kind === 'withdrawal') {
    const voided = entries.find((each) => each.id === entry.withdraws);
    return `Withdrawn: ${voided ? workTitle(voided) : 'an entry'}`;
  }
  return [workTitle(entry), about].filter(Boolean).join('; ');
}

function span(entry) {
  const begin = dateAndTime(entry.from, shell.zone);
  const hours = (Date.parse(entry.until) - Date.parse(entry.from)) / 3_600_000;
  return `${begin.slice(0, 16)}${hours > 0 ? `, ${hours < 48 ? `${Number(hours.toFixed(1))} h` : plural(Math.round(hours / 24), 'day')}` : ''}`;
}

/** Asked for once it comes into view: what the figures say of the time before and after. */
function result(entry) {
  const cell = h('span', {});
  if (entry.withdrawn || !['cleaning', 'filter-change', 'part-replaced', 'calibration'].includes(entry.kind)) return cell;
  const show = (found) => cell.replaceChildren(...found.flatMap((each) => [h('span', { class: each.told ? '' : 'sub' }, resultText(each)), h('br', {})]),
    h('a', { href: trendLink(entry, found) }, 'trend'));
  if (results.has(entry.id)) show(results.get(entry.id));
  else {
    const seen = new IntersectionObserver(async ([first]) => {
      if (!first.isIntersecting) return;
      seen.disconnect();
      const found = await get(`/api/v1/units/${encodeURIComponent(entry.unit)}/maintenance/${entry.id}/result`).catch(() => null);
      if (found === null) return;
      results.set(entry.id, found);
      show(found);
    });
    seen.observe(cell);
    setText(cell, ' ');
  }
  return cell;
}

function resultText({ figure, unit, before, after, change, changeStandardUncertainty, told }) {
  const title = capital(figureTitle(figure));
  const text = (value, u) => Object.values(shownFigure({ unit, value, standardUncertainty: u })).filter(Boolean).join(' ');
  if (change === undefined) return `${title}: ${before.mean === undefined ? 'not known before' : 'not known since'}`;
  return `${title} ${text(before.mean, before.standardUncertainty)} before, ${text(after.mean, after.standardUncertainty)} after: ${told ? `changed by ${text(change, changeStandardUncertainty)}` : 'no change that can be told'}`;
}

function trendLink(entry, found) {
  const from = new Date(Date.parse(entry.from) - 14 * 86_400_000).toISOString();
  const to = new Date(Math.min(shell.now(), Date.parse(entry.until) + 14 * 86_400_000)).toISOString();
  return `/trends.html?units=${encodeURIComponent(entry.unit)}&show=${found.map((each) => each.figure).join() || 'heat-transfer-reserve'}&from=${from}&to=${to}`;
}

function undo(entry) {
  if (entry.withdrawn || entry.kind === 'withdrawal') return '';
  return h('button', { type: 'button', 'aria-label': `Withdraw ${workTitle(entry)} of ${entry.unit}`, onclick: (event) => askWhy(event.target, entry) }, 'Withdraw');
}

/** A second step in place, so that nothing is withdrawn by a slip. */
function askWhy(button, entry) {
  const why = h('input', { 'aria-label': 'Why is it withdrawn?', placeholder: 'why?', size: 14 });
  const sure = h('button', { type: 'button', onclick: async () => {
    try {
      await send('POST', `/api/v1/units/${encodeURIComponent(entry.unit)}/maintenance/${entry.id}/withdrawal`, { note: why.value });
      await refresh();
    } catch (error) {
      say(error.message, true);
    }
  } }, 'Withdraw it');
  button.replaceWith(h('span', {}, why, ' ', sure));
  why.focus();
  why.addEventListener('keydown', (event) => event.key === 'Enter' && sure.click());
}

async function showParts() {
  const kind = byId('kind').value;
  document.querySelectorAll('#write [data-for]').forEach((label) => { label.hidden = !label.dataset.for.split(' ').includes(kind); });
  byId('part-label').hidden = ['top-up', 'drain', 'out-of-use'].includes(kind);
  const known = fleet.units.find((unit) => unit.id.toLowerCase() === byId('unit').value.trim().toLowerCase());
  const detail = known ? await get(`/api/v1/units/${encodeURIComponent(known.id)}`).catch(() => null) : null;
  const plate = detail?.nameplate ?? { exchangers: 0, filters: 0, pumps: 0 };
  const numbered = (name, count) => Array.from({ length: count }, (_, n) => `${name}.${n + 1}`);
  const points = (detail?.points ?? []).map((point) => point.point).sort();
  const parts = { cleaning: ['exchanger', ...numbered('exchanger', plate.exchangers), 'fws.strainer'], 'filter-change': [...numbered('tcs.filter', plate.filters), 'tcs.filter'],
    'part-replaced': [...numbered('pump', plate.pumps), ...numbered('exchanger', plate.exchangers), ...points],
    confirmation: [...numbered('tcs.filter', plate.filters), ...numbered('pump', plate.pumps), 'exchanger', 'fws.strainer'] }[kind] ?? (POINT_KINDS.includes(kind) ? points : []);
  const before = byId('part').value;
  byId('part').replaceChildren(...parts.map((part) => h('option', { value: part }, points.includes(part) ? pointTitle(part) : partTitle(part))));
  if (parts.includes(before)) byId('part').value = before;
}

async function write(event) {
  event.preventDefault();
  const kind = byId('kind').value;
  const known = fleet.units.find((unit) => unit.id.toLowerCase() === byId('unit').value.trim().toLowerCase());
  const from = instantOf(byId('from').value, shell.zone);
  const until = byId('until').value ? instantOf(byId('until').value, shell.zone) : from;
  const typed = byId('amount').value.trim().replace(',', '.');
  const asked = !byId('amount').parentElement.hidden && typed !== '';
  const faults = [[byId('unit'), !known, 'name a unit of the fleet'], [byId('from'), !Number.isFinite(from), 'say when it began'],
    [byId('until'), !(until >= from), 'the end lies before the beginning'], [byId('amount'), asked && !Number.isFinite(Number(typed)), 'the amount is not a number']];
  faults.forEach(([field, wrong]) => field.setAttribute('aria-invalid', String(wrong)));
  const first = faults.find(([, wrong]) => wrong);
  if (first) {
    say(`${capital(first[2])}.`, true);
    first[0].focus();
    return;
  }
  const part = byId('part-label').hidden ? '' : byId('part').value;
  const field = (id) => (byId(id).parentElement.hidden ? undefined : byId(id).value.trim());
  try {
    await send('POST', `/api/v1/units/${encodeURIComponent(known.id)}/maintenance`, { id: crypto.randomUUID?.(), kind, part: part || undefined, from: new Date(from).toISOString(), until: new Date(until).toISOString(),
      note: byId('note').value.trim(), amount: asked ? Number(typed) : undefined, amountUnit: asked ? field('amount-unit') || 'L' : undefined, serial: field('serial'), supplier: field('supplier'), model: field('model') });
    say(`Written: ${kindTitle(kind).toLowerCase()} of ${known.id}.`, false);
    ['note', 'amount', 'serial'].forEach((id) => { byId(id).value = ''; });
    await refresh();
  } catch (error) {
    say(error.message, true);
  }
}

function say(text, fault) {
  setText(byId('said'), text);
  byId('said').classList.toggle('fault', fault);
}

byId('kind').replaceChildren(...KINDS.map(([kind, title]) => h('option', { value: kind }, title)));
byId('log-kind').replaceChildren(h('option', { value: '' }, 'all'), ...KINDS.map(([kind, title]) => h('option', { value: kind }, title)));
byId('unit').value = byId('log-unit').value = new URLSearchParams(location.search).get('unit') ?? '';
byId('days').addEventListener('change', refresh);
byId('hall').addEventListener('change', refresh);
['kind', 'unit'].forEach((id) => byId(id).addEventListener('change', showParts));
['log-unit', 'log-kind', 'log-withdrawn'].forEach((id) => byId(id).addEventListener('input', showLog));
byId('write').addEventListener('submit', write);
refresh().then(showParts);
setInterval(() => {
  const busy = byId('log').contains(document.activeElement) && document.activeElement.matches('input');
  if (!document.hidden && !busy) refresh();
}, EVERY_MS);
