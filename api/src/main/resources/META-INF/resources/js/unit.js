/** The unit page: what could this unit still do, what says so, and what is its controller hiding? */

import { byId, h, setAttribute, setDrawing, setText } from './dom.js';
import { FUNCTIONS, capital, functionsIn, signalWord, words } from './catalogue.js';
import { Diagram } from './diagram.js';
import { ageMs, isStale, signalCode, signalReason } from './fleet-model.js';
import { age, dateAndTime } from './format.js';
import { Live } from './live.js';
import { workTitle } from './maintenance-words.js';
import { ServiceError, get, siteZone } from './service.js';
import { Shell } from './shell.js';
import { dataMark, signalSymbol } from './symbols.js';
import { FunctionBlock, figureText } from './unit-blocks.js';
import { PointsTable, showFigures, showNameplate } from './unit-tables.js';
import { CHOICES, choice, choose } from './units.js';

const TREND_EVERY_MS = 30_000;
const NARROW = matchMedia('(max-width: 700px)');

const id = new URLSearchParams(location.search).get('id') ?? '';
const path = `/api/v1/units/${encodeURIComponent(id)}`;
const shell = new Shell();
const blocks = new Map();
const table = new PointsTable(byId('points'));
let unit = null;
let diagram = null;
let diagramKey = '';
let drawRequested = false;
let trendsAsked = 0;

async function snapshot() {
  try {
    unit = normal(await get(path));
    shell.zone ??= await siteZone(unit.site);
  } catch (error) {
    if (error instanceof ServiceError && error.status === 404) notFound(error);
    throw error;
  }
  draw();
  showTrends();
  return unit.at ?? unit.lastSampleAt ?? '';
}

const byName = new Intl.Collator('en', { numeric: true });

/** Figures as a map by key with their sentences, points in order, however the service lists them. */
function normal(pushed) {
  const figures = Array.isArray(pushed.figures) ? Object.fromEntries(pushed.figures.map((figure) => [figure.key, figure])) : pushed.figures ?? {};
  for (const [key, sentence] of Object.entries(pushed.sentences ?? {})) {
    if (figures[key]) figures[key].sentence = sentence;
  }
  const points = [...pushed.points ?? []].sort((a, b) => byName.compare(a.point, b.point));
  return { ...unit, ...pushed, figures, points };
}

function take(message) {
  if (message.at) shell.heard(message.at);
  if (message.type !== 'unit' || message.unit.id !== id) return;
  unit = normal(message.unit);
  requestDraw();
}

function requestDraw() {
  if (drawRequested || !unit) return;
  drawRequested = true;
  requestAnimationFrame(() => {
    drawRequested = false;
    draw();
  });
}

function draw() {
  const now = shell.now();
  showHead(now);
  showDiagram(now);
  showBlocks(isStale(unit, now));
  showFigures(byId('figures'), unit.figures, shell.zone);
  table.show(unit.points ?? [], now);
  setDrawing(byId('nameplate'), JSON.stringify(unit.nameplate) + CHOICES.flow.indexOf(choice('flow')) + choice('pressure').key + choice('temperature').key, () => {
    const list = h('dl', { class: 'evidence plate' });
    showNameplate(list, unit.nameplate);
    return list;
  });
  byId('unit').hidden = false;
}

function showHead(now) {
  document.title = `${unit.id} · Loopwarden`;
  setText(byId('unit-id'), unit.id);
  setText(byId('unit-about'), [`${unit.supplier} ${unit.model}`, `${unit.hall} hall`, unit.coolant].filter(Boolean).join(' · '));
  const code = signalCode(unit);
  setDrawing(byId('signal'), code, () => signalSymbol(code));
  setText(byId('signal-word'), capital(signalWord(code)));
  byId('signal-word').dataset.signal = code;
  setText(byId('headline'), unit.lastSampleAt ? unit.headline ?? signalReason(unit) : 'Nothing has been heard from it yet.');
  setText(byId('hidden'), unit.hidden);
  byId('hidden-block').hidden = !unit.hidden;
  const stale = isStale(unit, now);
  byId('unit').classList.toggle('stale', stale);
  setDrawing(byId('age-mark'), stale, () => (stale ? dataMark('stale') : document.createTextNode('')));
  setText(byId('age'), unit.lastSampleAt ? `${stale ? 'stale, ' : ''}last heard ${age(ageMs(unit, now))} ago` : 'never heard');
  const connection = unit.connection;
  setText(byId('link'), connection ? [`· ${connection.name}, ${connection.protocol}, ${connection.state}`, connection.detail].filter(Boolean).join(': ') : '');
}

function showDiagram(now) {
  const key = [NARROW.matches, unit.nameplate.pumps, unit.nameplate.exchangers, unit.nameplate.filters, (unit.points ?? []).map((point) => point.point)].join();
  if (key !== diagramKey) {
    diagramKey = key;
    diagram = new Diagram(unit.nameplate, unit.points ?? [], NARROW.matches);
    byId('diagram').replaceChildren(diagram.node);
  }
  diagram.show(unit, now);
  const { ua, approach } = unit.figures;
  if (diagram.notes.has('ua')) setText(diagram.notes.get('ua'), ua ? `UA ${figureText(ua)}` : '');
  if (diagram.notes.has('approach')) setText(diagram.notes.get('approach'), approach ? `approach ${figureText(approach)}` : '');
}

function showBlocks(stale) {
  for (const { key } of functionsIn([unit])) {
    if (!blocks.has(key)) {
      blocks.set(key, new FunctionBlock(key));
      byId('blocks').append(blocks.get(key).node);
    }
    blocks.get(key).show(unit, stale);
  }
}

/** Trends are asked for now and then; a trend that cannot be had leaves the last one. */
async function showTrends() {
  if (!unit || document.hidden) return;
  trendsAsked = Date.now();
  showEvents();
  const seconds = Number(byId('span').value);
  const to = shell.now();
  const from = to - 1000 * seconds;
  const quantities = new Map((unit.points ?? []).map((point) => [point.point, point.quantity]));
  for (const [key, block] of blocks) {
    const wanted = (FUNCTIONS.find((each) => each.key === key)?.trends ?? []).filter((point) => quantities.has(point));
    const asked = await Promise.allSettled(wanted.map((point) => series(point, from, to)));
    const got = asked.flatMap((each, n) => (each.status === 'fulfilled'
      ? [{ point: wanted[n], quantity: quantities.get(wanted[n]), series: each.value, from, to, zone: shell.zone }] : []));
    if (got.length) block.showTrends(got);
  }
}

/** What happened lately, newest first; what cannot be had leaves the last picture. */
async function showEvents() {
  const events = await get(`${path}/events?days=3`).catch(() => null);
  if (events === null) return;
  byId('events').replaceChildren(...events.slice(0, 12).map((event) => h('li', {}, h('span', { class: 'sub' }, dateAndTime(event.at, shell.zone).slice(5, 16)), ' ',
    event.signal ? [signalSymbol(event.signal), ` ${capital(words(event.function))}: ${signalWord(event.signal)}`] : workTitle(event.work), event.signal ? null : h('span', { class: 'sub' }, ` ${event.work.by}`))));
  byId('no-events').hidden = events.length > 0;
}

const series = (point, from, to) => get(`${path}/points/${encodeURIComponent(point)}/series?${new URLSearchParams({
  from: new Date(from).toISOString(), to: new Date(to).toISOString(), width: 300 })}`);

function notFound(error) {
  byId('unit').hidden = true;
  setText(byId('unit-id'), id || 'No unit named');
  setText(byId('headline'), id ? `${error.message} Look for it on the fleet page.` : 'Choose one on the fleet page.');
}

function wire() {
  for (const [link, page] of [['log-link', 'maintenance'], ['evidence-link', 'evidence'], ['quality-link', 'data-quality']]) byId(link).href = `/${page}.html?unit=${encodeURIComponent(id)}`;
  for (const [kind, units] of Object.entries(CHOICES)) {
    const select = byId(`choose-${kind}`);
    select.replaceChildren(...units.map((each) => h('option', { value: each.key }, each.label)));
    select.value = choice(kind).key;
    select.addEventListener('change', () => {
      choose(kind, select.value);
      if (unit) draw();
      showTrends();
    });
  }
  byId('span').addEventListener('change', showTrends);
  NARROW.addEventListener('change', requestDraw);
}

wire();
new Live({ subscription: { unit: id }, snapshot, message: take, state: (state) => shell.connection(state) }).connect();
setInterval(() => {
  requestDraw();
  if (Date.now() - trendsAsked > TREND_EVERY_MS) showTrends();
}, 1000);
