/** For administrators: who may sign in, keys for programs, and who changed what. */

import { byId, h, setText } from './dom.js';
import { dateAndTime } from './format.js';
import { get, me, send, siteZone } from './service.js';
import { Shell } from './shell.js';

const ROLES = ['viewer', 'operator', 'engineer', 'administrator'];

const shell = new Shell();
let own = '';
let oldest = null;

const when = (instant) => (instant ? dateAndTime(instant, shell.zone) : '');

async function attempt(what) {
  try {
    byId('trouble').hidden = true;
    await what();
  } catch (error) {
    setText(byId('trouble'), error.message);
    byId('trouble').hidden = false;
  }
}

async function refresh() {
  const [people, keys] = await Promise.all([get('/api/v1/people'), get('/api/v1/keys')]);
  const waiting = people.filter((each) => each.active && !each.hasPassword).length;
  setText(byId('headline'), `${people.filter((each) => each.active && each.hasPassword).length} may sign in${waiting ? `, ${waiting} still to choose a password` : ''}; ${keys.length === 1 ? '1 key' : `${keys.length} keys`} for programs`);
  rows('people', people.map(personRow));
  rows('keys', keys.map(keyRow));
  byId('keys').hidden = keys.length === 0;
  byId('no-keys').hidden = keys.length > 0;
  byId('content').hidden = false;
}

function personRow(person) {
  const path = `/api/v1/people/${encodeURIComponent(person.name)}`;
  const change = (role, active) => attempt(async () => {
    await send('PUT', path, { role, active });
  }).then(() => attempt(refresh));
  const role = h('select', { 'aria-label': `role of ${person.name}`, onchange: (event) => change(event.target.value, person.active) },
    ...ROLES.map((each) => h('option', { value: each, selected: each === person.role }, each)));
  const state = !person.active ? 'may not sign in' : person.hasPassword ? 'may sign in' : `to choose a password until ${when(person.tokenUntil)}`;
  return [person.name, role, state, `${when(person.createdAt)} by ${person.createdBy}`, h('span', {},
    h('button', { type: 'button', onclick: () => attempt(() => newToken(path)) }, 'New password'),
    person.name === own ? null : h('button', { type: 'button', onclick: () => change(person.role, !person.active) }, person.active ? 'Lock out' : 'Let in'))];
}

async function newToken(path) {
  tellToken(await send('POST', `${path}/token`));
  await refresh();
}

function tellToken({ name, token, until }) {
  tell(`A way in for ${name}`, `Give ${name} this address, by a way that nobody else reads. It works once, until ${when(until)}, for choosing a password. It is not shown again.`,
    `${location.origin}/sign-in.html#token=${token}&name=${encodeURIComponent(name)}`);
}

function keyRow(key) {
  return [key.label, key.role, key.areas.length ? key.areas.join(' ') : 'all', key.until ? when(key.until) : 'no end', `${when(key.createdAt)} by ${key.createdBy}`,
    h('button', { type: 'button', onclick: () => attempt(async () => {
      await send('DELETE', `/api/v1/keys/${encodeURIComponent(key.id)}`);
      await refresh();
    }) }, 'Take back')];
}

function tell(title, words, secret) {
  setText(byId('told-title'), title);
  setText(byId('told-words'), words);
  setText(byId('told-secret'), secret);
  byId('told').showModal();
}

async function audit() {
  const entries = await get(`/api/v1/audit?most=50${oldest ? `&before=${oldest}` : ''}`);
  const body = byId('audit').tBodies[0];
  const titles = [...byId('audit').tHead.rows[0].cells].map((cell) => cell.textContent);
  body.append(...entries.map((entry) => h('tr', {}, ...[entry.number, when(entry.at), entry.who, entry.action, entry.subject, h('code', {}, entry.detail)]
    .map((cell, n) => h(n === 0 ? 'th' : 'td', { 'data-title': titles[n], class: n === 0 ? 'n' : null, scope: n === 0 ? 'row' : null }, typeof cell === 'number' ? String(cell) : cell)))));
  oldest = entries.at(-1)?.number ?? oldest;
  byId('older').hidden = entries.length < 50;
}

async function check() {
  setText(byId('check-result'), 'reading…');
  const { entries, lastHash, fault } = await get('/api/v1/audit/check');
  byId('check-result').className = fault ? 'trouble' : '';
  setText(byId('check-result'), fault ?? `${entries} entries, none changed, none missing; newest hash ${lastHash.slice(0, 16)}…`);
}

function rows(id, all) {
  const titles = [...byId(id).tHead.rows[0].cells].map((cell) => cell.textContent);
  byId(id).tBodies[0].replaceChildren(...all.map((cells) => h('tr', {}, ...cells.map((cell, n) => h(n === 0 ? 'th' : 'td', { 'data-title': titles[n], scope: n === 0 ? 'row' : null }, cell)))));
}

for (const id of ['new-role', 'key-role']) byId(id).append(...ROLES.map((role) => h('option', { value: role }, role)));
byId('add-person').addEventListener('submit', (event) => {
  event.preventDefault();
  attempt(async () => {
    tellToken(await send('POST', '/api/v1/people', { name: byId('new-name').value, role: byId('new-role').value }));
    byId('add-person').reset();
    await refresh();
  });
});
byId('add-key').addEventListener('submit', (event) => {
  event.preventDefault();
  attempt(async () => {
    const areas = byId('key-areas').value.split(/[\s,]+/).filter(Boolean);
    const made = await send('POST', '/api/v1/keys', { label: byId('key-label').value, role: byId('key-role').value, areas, days: byId('key-days').value ? Number(byId('key-days').value) : null });
    tell('A new key', 'Send it as “Authorization: Bearer …”. It is not kept here and not shown again.', made.key);
    byId('add-key').reset();
    await refresh();
  });
});
byId('copy').addEventListener('click', () => navigator.clipboard.writeText(byId('told-secret').textContent).then(() => setText(byId('copy'), 'Copied')));
byId('told').addEventListener('close', () => { setText(byId('told-secret'), ''); setText(byId('copy'), 'Copy'); });
byId('check').addEventListener('click', () => attempt(check));
byId('older').addEventListener('click', () => attempt(audit));

attempt(async () => {
  own = (await me()).name ?? '';
  shell.zone = await siteZone();
  await refresh();
  await audit();
}).then(() => byId('content').hidden && setText(byId('headline'), byId('trouble').textContent));
