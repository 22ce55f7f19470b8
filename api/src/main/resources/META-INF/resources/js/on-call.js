/** Who is called, over what, and what became of messages. */

import { byId, h, setText } from './dom.js';
import { dateAndTime, instantOf, localInput, plural } from './format.js';
import { get, me, send, siteZone } from './service.js';
import { Shell } from './shell.js';
import { rows } from './table.js';

const EVERY_MS = 10_000;
const shell = new Shell();
let role = 'anyone';
let state = null;
let edited = false;

async function refresh() {
  try {
    state = await get('/api/v1/on-call');
    shell.zone ??= await siteZone();
    shell.heard(state.at);
    shell.connection({ connected: true });
    show();
  } catch (error) {
    shell.connection({ connected: false, since: Date.now(), error });
  }
}

const person = (id) => state.plan.people.find((each) => each.id === id)?.name ?? id;
const when = (instant) => dateAndTime(instant, shell.zone);

function show() {
  const failing = state.channels.filter((each) => each.failedInARow > 0);
  setText(byId('headline'), !state.plan.chains.length ? 'Nobody is called: there is no escalation chain yet'
    : `${state.now.map((duty) => `${person(duty.person)} is on call for ${duty.rota}`).join('; ') || 'Nobody is on duty'}${failing.length ? `; ${plural(failing.length, 'channel')} failing` : ''}`);
  rows('duties', state.now.map((duty) => [duty.rota, person(duty.person) + (duty.cover ? ' (stands in)' : ''), when(duty.until), person(state.next.find((each) => each.rota === duty.rota)?.person ?? '')]));
  rows('chains', state.plan.chains.map((chain) => [chain.name, h('ol', { class: 'steps-list' }, chain.steps.map((step) => h('li', {}, `${duration(step.after)}: ${step.tell.map(target).join(', ')}`)))]));
  rows('people', state.plan.people.map((each) => [each.name, each.zone, each.contacts.map((c) => `${c.channel}${c.address ? ` ${c.address}` : ''}${c.from ? ` from ${c.from}` : ''}`).join('; '), each.quiet ? `${each.quiet.from.slice(0, 5)} to ${each.quiet.to.slice(0, 5)}` : 'none',
    ['operator', 'engineer', 'administrator'].includes(role) ? h('button', { type: 'button', onclick: () => attempt(() => send('POST', `/api/v1/on-call/trial/${encodeURIComponent(each.id)}`), 'A trial message is on its way.') }, 'Send a trial') : '']));
  rows('channels', state.channels.map((each) => [each.name, each.kind, `${each.delivered}`, `${each.failed}`, h('span', { class: each.failedInARow ? 'doubt' : null }, each.lastError || 'well')]));
  rows('messages', state.messages.slice(0, 30).map((each) => [when(each.decidedAt), person(each.person), each.kind.replace('-', ', '), each.channel, each.state + (each.error ? `: ${each.error}` : '')]));
  rows('dead', state.dead.map((each) => [when(each.decidedAt), person(each.person), each.channel, each.error ?? '', h('button', { type: 'button', onclick: () => attempt(() => send('POST', `/api/v1/on-call/messages/${each.id}/retry`), 'It is tried again.') }, 'Try again')]));
  rows('versions', state.versions.map((each) => [`${each.version}`, when(each.at), each.who, each.why]));
  rows('faults', state.faults.map((fault) => [fault.file, fault.field, fault.message]));
  options(byId('cover-rota'), state.plan.rotas.map((each) => [each.name, each.name]));
  options(byId('cover-person'), state.plan.people.map((each) => [each.id, each.name]));
  byId('cover-card').hidden = !['operator', 'engineer', 'administrator'].includes(role) || state.plan.rotas.length === 0;
  byId('plan-card').hidden = role !== 'administrator';
  if (!edited) byId('plan').value = JSON.stringify(state.plan, null, 2);
  byId('content').hidden = false;
}

function options(select, all) {
  if (select.options.length === all.length) return;
  select.replaceChildren(...all.map(([value, title]) => h('option', { value }, title)));
}

const target = (text) => (text.startsWith('rota:') ? `whoever is on call for ${text.slice(5)}` : person(text.slice(7)));
const duration = (text) => (text === 'PT0S' ? 'at once' : `after ${text.replace('PT', '').replace('H', ' h ').replace('M', ' min ').replace('S', ' s').toLowerCase().trim()} without an answer`);

async function attempt(what, done) {
  try {
    await what();
    setText(byId('said'), done);
    byId('trouble').hidden = true;
  } catch (error) {
    setText(byId('said'), '');
    byId('trouble').replaceChildren(...error.message.split('; ').map((line) => h('div', {}, line)));
    byId('trouble').hidden = false;
  }
  await refresh();
}

byId('cover').addEventListener('submit', (event) => {
  event.preventDefault();
  attempt(() => send('POST', '/api/v1/on-call/covers', { rota: byId('cover-rota').value, person: byId('cover-person').value, from: byId('cover-from').value ? instantOf(byId('cover-from').value, shell.zone) : null,
    until: byId('cover-until').value ? instantOf(byId('cover-until').value, shell.zone) : null, why: byId('cover-why').value }), 'The duty is taken.');
});
byId('plan').addEventListener('input', () => { edited = true; });
byId('save').addEventListener('submit', (event) => {
  event.preventDefault();
  attempt(async () => {
    let plan;
    try {
      plan = JSON.parse(byId('plan').value);
    } catch (error) {
      throw new Error(`the plan is not JSON: ${error.message}`);
    }
    await send('PUT', '/api/v1/on-call/plan', { basedOn: state.version, why: byId('plan-why').value, plan });
    edited = false;
  }, 'The plan is saved.');
});
me().then((who) => { role = who.role; if (state) show(); }, () => {});
refresh().then(() => { byId('cover-from').placeholder = localInput(shell.now(), shell.zone); });
setInterval(refresh, EVERY_MS);
