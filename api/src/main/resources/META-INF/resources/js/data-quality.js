/** The data quality page: does everything arrive, what was refused and why, what is wrong in the configuration? */

import { pointTitle, words } from './catalogue.js';
import { byId, h, setText } from './dom.js';
import { age, dateAndTime, plural } from './format.js';
import { get, siteZone } from './service.js';
import { Shell } from './shell.js';
import { rows } from './table.js';
import { dataMark } from './symbols.js';

const EVERY_MS = 5_000;

const shell = new Shell();
let lostSince = null;

async function refresh() {
  try {
    const state = await get('/api/v1/data-quality');
    shell.zone ??= await siteZone(state.site);
    if (state.at) shell.heard(state.at);
    lostSince = null;
    shell.connection({ connected: true });
    show(state);
    await showUnits();
  } catch (error) {
    lostSince ??= Date.now();
    shell.connection({ connected: false, since: lostSince, error });
  }
}

function show({ connections, rejects, faults, store }) {
  setText(byId('headline'), headline(connections, rejects, faults, store));
  const now = shell.now();
  rows('connections', connections.map((each) => connectionRow(each, now)));
  rows('rejects', rejects.map(rejectRow));
  rows('faults', faults.map((fault) => [`${fault.file}${fault.line ? `, line ${fault.line}` : ''}`, fault.field ?? '', fault.message]));
  byId('store').replaceChildren(...storeFacts(store).map(([title, value]) => h('div', {}, h('dt', {}, title), h('dd', {}, value))));
  byId('content').hidden = false;
}

function headline(connections, rejects, faults, store) {
  const down = connections.filter((each) => each.state !== 'connected');
  const refused = rejects.reduce((sum, each) => sum + each.count, 0);
  const most = rejects.reduce((a, b) => (a && a.count >= b.count ? a : b), null);
  return [
    down.length ? `${down.length} of ${plural(connections.length, 'connection')} down: ${down.map((each) => each.name).join(', ')}` : `All ${plural(connections.length, 'connection')} up`,
    refused ? `${plural(refused, 'reading')} refused, most for ${words(most.reason)}` : 'nothing refused',
    faults.length ? plural(faults.length, 'fault') + ' in the configuration' : null,
    store?.error ? `the store does not take samples${store.spooledSamples ? `, ${count(store.spooledSamples)} wait on disk` : ''}` : null,
  ].filter(Boolean).join('; ');
}

function connectionRow(each, now) {
  const up = each.state === 'connected';
  return [each.name, [each.protocol, each.endpoint].filter(Boolean).join(' '), h('span', { class: up ? '' : 'doubt' }, up ? null : dataMark('bad'), ` ${each.state}`),
    when(each.since), each.lastDataAt ? `${age(now - Date.parse(each.lastDataAt))} ago` : 'never',
    count(each.accepted), count(each.uncertain), count(each.bad), count(each.rejected), each.detail ?? ''];
}

const rejectRow = (each) => [each.connection, words(each.reason), count(each.count), when(each.lastAt),
  h('span', {}, each.lastDetail ?? '', each.lastPayload ? h('code', {}, beginning(each.lastPayload)) : null)];

const beginning = (payload) => (payload.length > 160 ? `${payload.slice(0, 160)}…` : payload);

const storeFacts = (store) => [
  ...(store.kind ? [['kind', store.kind]] : []),
  ['samples stored', count(store.samplesStored)], ['repeated samples, stored once', count(store.duplicates)], ['contradicting repeats, first kept', count(store.conflicts)], ['came late', count(store.late)],
  ['waiting to be written', count(store.queueDepth)], ['waiting on disk for the store', count(store.spooledSamples)],
  ...(store.spoolDamages ? [['damaged places on disk, stepped over', `${count(store.spoolDamages)}, with ${count(store.spoolLostSamples)} samples`]] : []), ['scans refused', count(store.refusedScans)], ['failed writes', count(store.failures)],
  ['last write took', `${store.lastWriteMs} ms`], ['last error', store.error || 'none'],
];

/** A clock further off than this is told; the way of a sample takes its share of it. */
const CLOCK_OFF_MS = 2_000;

async function showUnits() {
  const units = await get('/api/v1/data-quality/units');
  const odd = (each) => each.late > 0 || each.conflicts > 0 || each.refused > 0 || Math.abs(each.leastDelayMs ?? 0) > CLOCK_OFF_MS || each.stored === 0;
  const seen = byId('all-units').checked ? units : units.filter(odd);
  rows('units', seen.map((each) => [h('a', { href: `/unit.html?id=${encodeURIComponent(each.unit)}` }, each.unit), each.connection, count(each.stored), count(each.duplicates), count(each.conflicts), count(each.late),
    each.delayMs === undefined ? '–' : seconds(each.delayMs), clockWords(each)]));
  const select = byId('unit');
  if (select.options.length !== units.length) {
    const before = select.value || new URLSearchParams(location.search).get('unit');
    select.replaceChildren(...units.map((each) => h('option', { value: each.unit }, each.unit)));
    if (units.some((each) => each.unit === before)) select.value = before;
    await showPoints();
  }
}

const seconds = (ms) => `${(ms / 1000).toFixed(Math.abs(ms) < 10_000 ? 1 : 0).replace('-', '\u2212')} s`;

function clockWords({ leastDelayMs: ms }) {
  if (ms === undefined) return 'not known';
  if (Math.abs(ms) <= CLOCK_OFF_MS) return 'agrees with ours';
  return h('span', { class: 'doubt' }, dataMark('stale'), ms < 0 ? ` ${seconds(-ms)} ahead of ours` : ` ${seconds(ms)} behind ours, or on the way`);
}

let pointsAsked = 0;

async function showPoints() {
  const turn = ++pointsAsked;
  const unit = byId('unit').value;
  if (!unit) return;
  const points = await get(`/api/v1/data-quality/units/${encodeURIComponent(unit)}/points?hours=${byId('hours').value}`).catch(() => null);
  if (turn !== pointsAsked || points === null) return;
  rows('points', points.map((each) => [h('a', { href: `/trends.html?units=${encodeURIComponent(unit)}&show=${each.point}&span=24h` }, pointTitle(each.point)), each.perMinute === undefined ? '–' : each.perMinute.toFixed(1),
    count(each.good), count(each.uncertain), count(each.bad), count(each.gapMinutes), each.longestGapMinutes ? `${count(each.longestGapMinutes)} min` : '', each.newestAt ? `${age(shell.now() - Date.parse(each.newestAt))} ago` : 'never']));
}

const when = (instant) => (instant ? dateAndTime(instant, shell.zone) : '');
const count = (n) => String(n ?? 0).replace(/\B(?=(\d{3})+$)/g, '\u202f');

['unit', 'hours'].forEach((id) => byId(id).addEventListener('change', showPoints));
byId('all-units').addEventListener('change', showUnits);
refresh();
setInterval(() => document.hidden || refresh(), EVERY_MS);
