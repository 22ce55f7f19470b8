/** The units page: a new unit step by step, its map proposed from what is seen and held against physics. */

import { words } from './catalogue.js';
import { byId, h, setText } from './dom.js';
import { number, plural } from './format.js';
import { get, send, siteZone } from './service.js';
import { Shell } from './shell.js';
import { rows } from './table.js';
import { shown } from './units.js';

const shell = new Shell();
let choices = { connections: [], maps: [], nameplates: [], halls: [], points: [] };
let tags = [];
let unit = '';
let lines = [];
let findings = [];
let checkWanted = 0;

const kindWords = { swapped: 'Likely swapped', unit: 'Unit of measure', sign: 'Counts the other way', doubtful: 'Cannot be' };
const protocol = () => choices.connections.find((each) => each.name === byId('line').value)?.protocol ?? byId('protocol').value;
const isNew = () => byId('line').value === '';
const fixedMap = () => byId('map').value;

async function begin() {
  try {
    const [setup, fleet] = await Promise.all([get('/api/v1/setup'), get('/api/v1/fleet')]);
    choices = setup;
    shell.heard(fleet.at);
    shell.zone = await siteZone(fleet.site);
    setText(byId('site'), fleet.site?.name);
    const before = byId('line').value;
    byId('line').replaceChildren(...choices.connections.map((each) => h('option', { value: each.name }, `${each.name}, ${each.protocol}`)), h('option', { value: '' }, 'a new one'));
    if (before) byId('line').value = before;
    byId('nameplate').replaceChildren(...choices.nameplates.map((each) => h('option', { value: each.name }, `${each.supplier} ${each.model}`)));
    byId('halls').replaceChildren(...choices.halls.map((hall) => h('option', { value: hall })));
    setText(byId('headline'), `${plural(fleet.units.length, 'unit')} over ${plural(choices.connections.length, 'connection')}; add one here`);
    rows('fleet', fleet.units.map((each) => [h('a', { href: `/unit.html?id=${encodeURIComponent(each.id)}` }, each.id), each.hall, `${each.supplier} ${each.model}`, each.coolant,
      `${each.connection?.name ?? ''} ${each.connection?.protocol ?? ''}`, words(each.connection?.state)]));
    showFields();
  } catch (error) {
    shell.connection({ connected: false, since: Date.now(), error });
    setTimeout(begin, 4000);
  }
}

function showFields() {
  const modbus = protocol() === 'modbus-tcp';
  document.querySelectorAll('[data-new]').forEach((label) => { label.hidden = !isNew() || (label.hasAttribute('data-mqtt') && !protocol().startsWith('mqtt')); });
  document.querySelectorAll('[data-modbus]').forEach((label) => { label.hidden = !modbus; });
  const fitting = choices.maps.filter((each) => each.protocol === protocol());
  const before = byId('map').value;
  byId('map').replaceChildren(...(modbus ? [] : [h('option', { value: '' }, 'propose one')]), ...fitting.map((each) => h('option', { value: each.name }, each.name)));
  if (fitting.some((each) => each.name === before)) byId('map').value = before;
}

const settings = () => (isNew() && protocol().startsWith('mqtt')
  ? { topics: byId('topics').value.trim(), 'client-id': `loopwarden-${byId('connection-name').value.trim()}` } : {});

async function look(event) {
  event.preventDefault();
  say('look-said', 'Looking…');
  ['step-unit', 'step-map', 'step-save'].forEach((id) => { byId(id).hidden = true; });
  try {
    tags = await send('POST', '/api/v1/setup/look', { connection: byId('line').value, protocol: protocol(), endpoint: byId('endpoint').value.trim(), settings: settings(),
      map: fixedMap(), nameAtSource: byId('unit-number').value.trim(), seconds: 6 });
    const names = [...new Set(tags.map((tag) => tag.unit))].sort();
    say('look-said', tags.length ? `${plural(tags.length, 'tag')} of ${plural(names.length, 'unit')}.` : 'Nothing came in this time. Sparkplug names its tags only at a birth; else check the topics.', tags.length === 0);
    if (tags.length) showFound(names);
  } catch (error) {
    say('look-said', error.message, true);
  }
}

function showFound(names) {
  byId('found').replaceChildren(...names.map((name) => h('label', { class: 'check' }, h('input', { type: 'radio', name: 'found', value: name, onchange: () => choose(name) }),
    h('span', {}, name === 'look' ? `unit ${byId('unit-number').value}` : name || 'without a name'), h('span', { class: 'sub' }, plural(tags.filter((tag) => tag.unit === name).length, 'tag')))));
  byId('step-unit').hidden = false;
  if (names.length === 1) {
    byId('found').querySelector('input').checked = true;
    choose(names[0]);
  } else byId('found').querySelector('input')?.focus();
}

const ofUnit = () => tags.filter((tag) => tag.unit === unit);
const nameAtSource = () => (protocol() === 'modbus-tcp' ? byId('unit-number').value.trim() : unit);

async function choose(name) {
  unit = name;
  try {
    const proposed = await send('POST', '/api/v1/setup/proposal', { nameplate: byId('nameplate').value, tags: ofUnit(), map: fixedMap(), nameAtSource: nameAtSource() });
    lines = proposed.lines;
    findings = proposed.findings;
    byId('map-name').value = fixedMap() || `${byId('nameplate').value}-${protocol().replace('mqtt-', '').replace('modbus-tcp', 'modbus').replace('opc-ua', 'opcua')}-2`;
    byId('map-name-label').hidden = Boolean(fixedMap());
    showMap();
  } catch (error) {
    say('look-said', error.message, true);
  }
}

async function check() {
  const turn = ++checkWanted;
  const checked = await send('POST', '/api/v1/setup/check', { nameplate: byId('nameplate').value, lines }).catch((error) => ({ error }));
  if (turn !== checkWanted) return;
  if (checked.error) {
    say('save-said', checked.error.message, true);
    return;
  }
  ({ lines, findings } = checked);
  showMap();
}

function showMap() {
  const at = document.activeElement?.dataset?.field;
  showFindings();
  const known = choices.points.flatMap((pattern) => (pattern.includes('{n}') ? [1, 2, 3, 4, 5, 6].map((n) => pattern.replace('{n}', n)) : [pattern]));
  rows('lines', lines.map((line, n) => [line.source, pointSelect(line, n, known), unitInput(line, n), signButton(line, n), line.raw === undefined ? '–' : number(line.raw, Math.abs(line.raw) < 10 ? 3 : 1), meaning(line),
    fixedMap() ? '' : h('button', { type: 'button', 'aria-label': `Leave out ${line.source}`, onclick: () => change(n, null) }, '×')]));
  [...byId('lines').tBodies[0].rows].forEach((row, n) => row.classList.toggle('doubted', findings.some((finding) => finding.points.includes(lines[n].point))));
  const left = ofUnit().filter((tag) => !lines.some((line) => line.source === tag.source));
  setText(byId('left'), left.length ? `${plural(left.length, 'tag')} not used: ${left.slice(0, 12).map((tag) => tag.about || tag.source).join(', ')}${left.length > 12 ? ' and more' : ''}` : 'Every tag is used.');
  byId('add-label').hidden = Boolean(fixedMap()) || left.length === 0;
  byId('add-tag').replaceChildren(h('option', { value: '' }, ''), ...left.map((tag) => h('option', { value: tag.source }, tag.about || tag.source)));
  byId('step-map').hidden = false;
  byId('step-save').hidden = lines.length === 0;
  byId('despite-label').hidden = findings.length === 0;
  if (at) document.querySelector(`[data-field="${CSS.escape(at)}"]`)?.focus();
}

function showFindings() {
  byId('findings').replaceChildren(...(findings.length === 0 ? [h('p', {}, 'Nothing speaks against it: heat flows from warm to cold, both sides carry the same duty.')]
    : findings.map((finding) => h('div', { class: 'finding', 'data-kind': finding.kind }, h('b', {}, `${kindWords[finding.kind] ?? finding.kind}. `), finding.sentence, ' ',
      finding.remedy.length && !fixedMap() ? h('button', { type: 'button', onclick: () => mend(finding) }, 'Mend it') : null))));
}

function mend(finding) {
  lines = lines.map((line) => {
    const better = finding.remedy.find((each) => each.source === line.source);
    return better ? { ...better } : line;
  });
  check();
}

function change(n, part) {
  lines = part ? lines.map((line, m) => (m === n ? { ...line, ...part } : line)) : lines.filter((_, m) => m !== n);
  check();
}

/** A point that another tag has goes to this one, and this one's to the other. */
function place(n, point) {
  const other = lines.findIndex((line) => line.point === point);
  const before = lines[n].point;
  lines = lines.map((line, m) => (m === n ? { ...line, point } : m === other ? { ...line, point: before } : line));
  check();
}

const pointSelect = (line, n, known) => (fixedMap() ? line.point : h('select', { 'data-field': `p${line.source}`, 'aria-label': `Point of ${line.source}`, onchange: (event) => place(n, event.target.value) },
  ...known.map((point) => h('option', { value: point, selected: point === line.point }, point))));

const unitInput = (line, n) => (fixedMap() ? '' : h('input', { 'data-field': `u${line.source}`, value: line.ucum, size: 10, spellcheck: 'false', 'aria-label': `Unit of measure of ${line.source}`, onchange: (event) => change(n, { ucum: event.target.value.trim() }) }));

const signButton = (line, n) => (fixedMap() ? '' : h('button', { type: 'button', 'data-field': `s${line.source}`, 'aria-label': `${line.source} counts ${line.sign < 0 ? 'backwards' : 'forwards'}; turn it`, onclick: () => change(n, { sign: -line.sign }) }, line.sign < 0 ? 'backwards' : 'forwards'));

const meaning = (line) => (line.valueSi === undefined ? '–' : Object.values(shown(line.valueSi, line.unitSi, line.quantity)).filter(Boolean).join(' '));

async function save(event) {
  event.preventDefault();
  if (findings.length && !byId('despite').checked) {
    say('save-said', 'Mend what physics speaks against, or say that you have looked at it.', true);
    byId('despite').focus();
    return;
  }
  try {
    const connection = isNew() ? byId('connection-name').value.trim() : byId('line').value;
    const made = await send('POST', '/api/v1/setup/units', { id: byId('unit-id').value.trim(), hall: byId('hall').value.trim(), nameplate: byId('nameplate').value, connection, protocol: protocol(),
      endpoint: byId('endpoint').value.trim(), settings: settings(), nameAtSource: nameAtSource(), map: fixedMap() || byId('map-name').value.trim(), lines: fixedMap() ? [] : lines });
    say('save-said', '');
    byId('save-said').replaceChildren(h('a', { href: `/unit.html?id=${encodeURIComponent(made.unit)}` }, made.unit), ' is watched now.');
    await begin();
  } catch (error) {
    say('save-said', error.message, true);
  }
}

function say(id, text, fault = false) {
  setText(byId(id), text);
  byId(id).classList.toggle('fault', fault);
}

byId('look').addEventListener('submit', look);
byId('save').addEventListener('submit', save);
['line', 'protocol'].forEach((id) => byId(id).addEventListener('change', showFields));
byId('nameplate').addEventListener('change', () => unit !== '' && lines.length && choose(unit));
byId('map').addEventListener('change', () => !byId('step-map').hidden && protocol() !== 'modbus-tcp' && choose(unit));
byId('add-tag').addEventListener('change', (event) => {
  const tag = tags.find((each) => each.source === event.target.value && each.unit === unit);
  const free = choices.points.find((point) => !point.includes('{n}') && !lines.some((line) => line.point === point));
  if (tag && free) {
    lines = [...lines, { point: free, source: tag.source, ucum: tag.ucum ?? '1', scale: 1, offset: 0, sign: 1, raw: tag.value }];
    check();
  }
});
begin();
