/** The alarm list: what is going wrong right now, and what to do first? Incidents first, each with its alarms. */

import { alarmPage, alarmPath, placeWord, priorityMark, sourceLink, stateWord, timeLeft } from './alarm-words.js';
import { byId, h, setText } from './dom.js';
import { age, plural, timeOfDay } from './format.js';
import { Live } from './live.js';
import { get, me, send, siteZone } from './service.js';
import { Shell } from './shell.js';

const RANK = { high: 0, medium: 1, low: 2 };
const SHOWN_AT_ONCE = 6;

const shell = new Shell();
const opened = new Set();
let may = false;
let kept = false;
let asked = false;

async function refresh() {
  const list = await get(`/api/v1/alarms${kept ? '?show=kept-away' : ''}`);
  shell.zone ??= await siteZone();
  shell.heard(list.at);
  show(list);
  return list.at;
}

function show(list) {
  const byIncident = new Map();
  for (const alarm of list.alarms) {
    const key = alarm.incident ?? alarm.id;
    if (!byIncident.has(key)) byIncident.set(key, []);
    byIncident.get(key).push(alarm);
  }
  const incidents = list.incidents.filter((each) => byIncident.has(each.id));
    byId('flood').hidden = !list.floodSince;
  setText(byId('flood'), list.floodSince ? `Alarm flood since ${timeOfDay(list.floodSince, shell.zone)}: more than 10 alarms in 10 minutes. Messages of what can wait are held back.` : '');
  byId('unkept').hidden = list.kept;
  const groups = [...byIncident].map(([key, alarms]) => ({ incident: incidents.find((each) => each.id === key), alarms })).sort(mostUrgentFirst);
  setText(byId('headline'), kept ? keptHeadline(list) : headline(list, groups));
  byId('list').replaceChildren(...groups.map((group) => card(group, list)));
  byId('none').hidden = groups.length > 0;
  setText(byId('none'), kept ? 'No alarm is kept away.' : 'No alarm stands.');
  byId('more').hidden = list.total <= list.alarms.length;
  setText(byId('more'), `${list.total} alarms; the most urgent ${list.alarms.length} are listed.`);
  const away = ['shelved', 'suppressed-by-design', 'out-of-service'].map((state) => [list.counts[state] ?? 0, stateWord(state)]).filter(([count]) => count);
  setText(byId('away'), away.length ? away.map(([count, word]) => `${count} ${word}`).join(', ') : 'none kept away');
}

const waits = (alarms) => alarms.filter((each) => each.awaitsAcknowledgement).length;

function headline(list, groups) {
  if (!list.total) return 'Nothing is going wrong that needs a person';
  const waiting = groups.filter((each) => waits(each.alarms));
  if (!waiting.length) return `${plural(list.total, 'alarm')} known, none to acknowledge`;
  const { incident, alarms } = waiting[0];
  return `${plural(waiting.length, 'incident')} to acknowledge; first ${placeWord(incident?.place ?? alarms[0].source)}: ${(incident?.title ?? alarms[0].title).toLowerCase()}`;
}

const keptHeadline = (list) => (list.total ? `${plural(list.total, 'alarm')} kept away: shelved, suppressed by design or out of service` : 'No alarm is kept away');

function mostUrgentFirst(a, b) {
  const urgency = ({ alarms }) => Math.min(...alarms.map((each) => (each.awaitsAcknowledgement ? 0 : 10) + RANK[each.priority]));
  const newest = ({ alarms }) => Math.max(...alarms.map((each) => Date.parse(each.since)));
  return urgency(a) - urgency(b) || newest(b) - newest(a);
}

function card({ incident, alarms }, list) {
  const lead = alarms.find((each) => each.id === incident?.lead) ?? alarms[0];
  const waiting = waits(alarms);
  const units = incident?.sources?.length > 1 ? incident.sources : null;
  const title = incident?.title ?? lead.title;
  const hold = list.holds.find((each) => each.incident === incident?.id);
  return h('article', { class: `incident ${waiting ? lead.priority : 'known'}`, 'aria-label': `${lead.priority}: ${title}` },
    h('div', { class: 'incident-head' }, priorityMark(lead.priority, !waiting),
      h('h2', {}, incident?.place && incident.place !== lead.source ? placeWord(incident.place) : sourceLink(lead.source), ': ', h('a', { href: alarmPage(lead.id) }, title))),
    h('p', { class: 'sub' }, [`since ${age(shell.now() - Date.parse(incident?.openedAt ?? lead.since))}`, lead.respondBy && waiting && lead.condition ? timeLeft(lead.respondBy, shell.now()) : null,
      alarms.length > 1 ? plural(alarms.length, 'alarm') : stateWord(lead.state), incident?.takenBy ? `taken by ${incident.takenBy}` : null,
      hold ? `nobody called yet: ${hold.reason}` : null].filter(Boolean).join(' · ')),
    units ? h('p', {}, `${plural(units.length, 'unit')}: `, units.flatMap((each, n) => [n ? ', ' : '', sourceLink(each)])) : null,
    lead.evidence ? h('p', { class: 'seen' }, lead.condition ? lead.evidence : `Now: ${lead.evidence}`) : null,
    waiting && lead.firstAction ? h('p', {}, h('b', {}, 'First: '), lead.firstAction) : null,
    kept ? h('p', {}, awayWords(lead)) : null,
    alarms.length > 1 ? members(incident?.id ?? lead.id, alarms) : null,
    may && waiting && !kept ? h('div', { class: 'actions' }, h('button', { type: 'button', class: 'main', onclick: () => acknowledge(incident, alarms) }, waiting > 1 ? `Acknowledge all ${waiting}` : 'Acknowledge')) : null);
}

const awayWords = (alarm) => [alarm.shelvedUntil ? `on the shelf until ${timeOfDay(alarm.shelvedUntil, shell.zone)}` : null, alarm.suppressedBy ? `because of: ${alarm.suppressedBy}` : null,
  alarm.outOfService ? 'out of service' : null].filter(Boolean).join('; ');

function members(key, alarms) {
  const rest = alarms.length > SHOWN_AT_ONCE && !opened.has(key) ? alarms.slice(0, SHOWN_AT_ONCE) : alarms;
  return h('ul', { class: 'members' }, rest.map((each) => h('li', {}, h('a', { href: alarmPage(each.id) }, `${placeWord(each.source)}: ${each.title}`), h('span', { class: 'sub' }, ` ${each.priority}, ${stateWord(each.state)}`))),
    rest.length < alarms.length ? h('li', {}, h('button', { type: 'button', class: 'plain', onclick: () => { opened.add(key); again(); } }, `${alarms.length - rest.length} more`)) : null);
}

async function acknowledge(incident, alarms) {
  try {
    if (incident) await send('POST', `/api/v1/incidents/${incident.id}/acknowledge`, {});
    else await send('POST', `${alarmPath(alarms[0].id)}/acknowledge`, {});
    byId('trouble').hidden = true;
  } catch (error) {
    setText(byId('trouble'), error.message);
    byId('trouble').hidden = false;
  }
  again();
}

/** At most one question to the service at a time, and one more after it if something changed meanwhile. */
let busy = false;
async function again() {
  if (busy) {
    asked = true;
    return;
  }
  busy = true;
  try {
    await refresh();
  } catch {
    // The live connection tells the reader and comes back.
  } finally {
    busy = false;
    if (asked) {
      asked = false;
      setTimeout(again, 500);
    }
  }
}

byId('show').addEventListener('change', (event) => {
  kept = event.target.value === 'kept-away';
  again();
});
me().then(({ role }) => { may = ['operator', 'engineer', 'administrator'].includes(role); again(); }, () => {});
setInterval(again, 10_000);
new Live({ subscription: {}, snapshot: refresh, message: (pushed) => pushed.type === 'alarms' && again(), state: (state) => shell.connection(state) }).connect();
