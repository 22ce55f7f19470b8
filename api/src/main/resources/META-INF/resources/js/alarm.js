/** One alarm: why was I called, is it real, can it wait, what do I do first? */

import { alarmPath, EVENTS, placeWord, priorityMark, sourceLink, stateWord, timeLeft } from './alarm-words.js';
import { pointTitle } from './catalogue.js';
import { byId, h, setText } from './dom.js';
import { age, dateAndTime } from './format.js';
import { Live } from './live.js';
import { get, me, send, siteZone } from './service.js';
import { Shell } from './shell.js';
import { sparkline } from './sparkline.js';
import { rows } from './table.js';

const shell = new Shell();
const id = new URLSearchParams(location.search).get('id') ?? '';
const SPAN_MS = 2 * 3600_000;
let may = false;
let plotsAt = 0;
let detail = null;

async function refresh() {
  detail = await get(alarmPath(id));
  shell.zone ??= await siteZone();
  shell.heard(detail.at);
  show();
  if (Date.now() - plotsAt > 30_000) {
    plotsAt = Date.now();
    plots().catch(() => {});
  }
  return detail.at;
}

function show() {
  const { alarm, incident, definition } = detail;
  const now = shell.now();
  document.title = `${alarm.source}: ${alarm.title} · Loopwarden`;
  setText(byId('headline'), `${placeWord(alarm.source)}: ${alarm.title}`);
  byId('state').replaceChildren(priorityMark(alarm.priority, !alarm.awaitsAcknowledgement),
    h('span', {}, ` · ${stateWord(alarm.state)} since ${age(now - Date.parse(alarm.since))}${alarm.hall ? ` · hall ${alarm.hall}` : ''} · `), sourceLink(alarm.source));
  byId('left').hidden = !(alarm.stands && alarm.condition && alarm.respondBy);
  setText(byId('left'), alarm.respondBy ? `${timeLeft(alarm.respondBy, now)} (${dateAndTime(alarm.respondBy, shell.zone)})` : '');
  const facts = [[alarm.condition ? 'Seen' : 'Seen last', alarm.evidence], ['Probable cause', alarm.cause], ['If nobody acts', alarm.consequence], ['First', alarm.firstAction],
    ['Condition', definition?.when], ['On the shelf until', alarm.shelvedUntil && dateAndTime(alarm.shelvedUntil, shell.zone)], ['Suppressed because of', alarm.suppressedBy]];
  byId('why').replaceChildren(...facts.filter(([, value]) => value).flatMap(([title, value]) => [h('dt', {}, title), h('dd', { class: title === 'First' ? 'first' : null }, value)]));
  byId('incident').hidden = !incident || incident.alarms.length < 2;
  if (incident) setText(byId('incident'), `One incident with ${incident.alarms.length - 1} more, at ${incident.sources.map(placeWord).join(', ')}${incident.takenBy ? `; taken by ${incident.takenBy}` : ''}.`);
  byId('buttons').replaceChildren(...(may ? buttons(alarm) : []));
  byId('needs').hidden = may;
  rows('history', detail.history.map((line) => [dateAndTime(line.at, shell.zone), EVENTS[line.event] ?? line.event, stateWord(line.to), line.who, `${line.why ?? ''}${line.until ? ` until ${dateAndTime(line.until, shell.zone)}` : ''}`]));
  rows('messages', detail.messages.map((each) => [each.person, each.channel, each.state + (each.error ? `: ${each.error}` : ''), dateAndTime(each.deliveredAt ?? each.decidedAt, shell.zone), each.id]));
  setText(byId('holds'), detail.holds.map((each) => `${each.person ? `${each.person}: ` : ''}${each.reason}${each.until ? ` until ${dateAndTime(each.until, shell.zone)}` : ''}`).join('; '));
  byId('content').hidden = false;
}

function buttons(alarm) {
  const all = [];
  if (alarm.awaitsAcknowledgement) all.push(button('Acknowledge', 'acknowledge', 'main'));
  if (alarm.state === 'latched-acknowledged') all.push(button('Reset', 'reset', 'main'));
  if (alarm.state === 'shelved') all.push(button('Take off the shelf', 'unshelve'));
  if (alarm.outOfService) all.push(button('Return to service', 'return'));
  else {
    all.push(h('button', { type: 'button', onclick: () => ask('shelve') }, 'Shelve…'));
    all.push(h('button', { type: 'button', onclick: () => ask('remove') }, 'Take out of service…'));
  }
  return all;
}

const button = (title, action, kind) => h('button', { type: 'button', class: kind, onclick: () => act(action, {}) }, title);

function ask(action) {
  byId('ask').dataset.action = action;
  setText(byId('ask-title'), action === 'shelve' ? 'Shelve this alarm for a time' : 'Take this alarm out of service');
  byId('minutes-label').hidden = action !== 'shelve';
  byId('ask').hidden = false;
  byId('reason').focus();
}

async function act(action, body) {
  try {
    await send('POST', `${alarmPath(id)}/${action}`, body);
    byId('trouble').hidden = true;
    byId('ask').hidden = true;
  } catch (error) {
    setText(byId('trouble'), error.message);
    byId('trouble').hidden = false;
  }
  await refresh().catch(() => {});
}

/** At most two points; a numbered one stands for those that the unit has. */
async function plots() {
  const { alarm } = detail;
  if (alarm.source.includes(':') || !alarm.show?.length) return;
  const unit = await get(`/api/v1/units/${encodeURIComponent(alarm.source)}`);
  const to = shell.now();
  const from = to - SPAN_MS;
  const points = alarm.show.flatMap((name) => unit.points.filter((each) => (name.includes('{n}') ? new RegExp(`^${name.replace(/\./g, '\\.').replace('{n}', '\\d+')}$`) : { test: (text) => text === name }).test(each.point))).slice(0, 4);
  const figures = await Promise.all(points.map(async ({ point, quantity }) => {
    const query = new URLSearchParams({ from: new Date(from).toISOString(), to: new Date(to).toISOString(), width: '150' });
    const series = await get(`/api/v1/units/${encodeURIComponent(alarm.source)}/points/${point}/series?${query}`);
    return sparkline({ title: pointTitle(point), series, quantity, from, to, zone: shell.zone });
  }));
  byId('plots').replaceChildren(...figures);
}

byId('ask').addEventListener('submit', (event) => {
  event.preventDefault();
  const action = byId('ask').dataset.action;
  act(action, { why: byId('reason').value, ...(action === 'shelve' ? { minutes: Number(byId('minutes').value) } : {}) });
});
byId('ask-cancel').addEventListener('click', () => { byId('ask').hidden = true; });
me().then(({ role }) => { may = ['operator', 'engineer', 'administrator'].includes(role); if (detail) show(); }, () => {});
setInterval(() => { if (detail) show(); }, 5_000);
if (!id.includes('/')) setText(byId('headline'), 'Which alarm? Open one from the alarm list.');
else {
  new Live({ subscription: {}, snapshot: refresh, message: (pushed) => pushed.type === 'alarms' && refresh().catch(() => {}), state: (state) => {
    if (state.error?.status === 404) setText(byId('headline'), `There is no alarm ${id}.`);
    else shell.connection(state);
  } }).connect();
}
