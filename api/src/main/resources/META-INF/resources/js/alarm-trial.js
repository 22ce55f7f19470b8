/** Alarm definitions, and what one would have done before it is switched on. */

import { priorityMark } from './alarm-words.js';
import { byId, h, setText } from './dom.js';
import { age, dateAndTime, number, plural } from './format.js';
import { get, me, send, siteZone } from './service.js';
import { Shell } from './shell.js';
import { rows } from './table.js';

const shell = new Shell();
let standard = '';

async function begin() {
  try {
    shell.zone = await siteZone();
    const all = await get('/api/v1/alarm-definitions');
    standard = all.standard;
    setText(byId('headline'), `${plural(all.definitions.length, 'alarm')} defined${all.faults.length ? `, ${plural(all.faults.length, 'fault')} in the files` : ''}`);
    rows('definitions', all.definitions.map((each) => [h('span', {}, each.title, h('br'), h('span', { class: 'sub' }, each.key)), priorityMark(each.priority), each.when, each.consequence, each.firstAction, age(1000 * each.respondWithinS), each.who]));
    rows('faults', all.faults.map((fault) => [`${fault.file}, line ${fault.line}`, fault.field, fault.message]));
    byId('key').replaceChildren(h('option', { value: '' }, 'as written below'), ...all.definitions.map((each) => h('option', { value: each.key }, each.key)));
    byId('key').value = all.definitions[0]?.key ?? '';
    copy();
    byId('content').hidden = false;
  } catch (error) {
    shell.connection({ connected: false, since: Date.now(), error });
  }
}

/** The text of a definition that comes with the program, to change and fire. */
function copy() {
  const key = byId('key').value;
  const start = standard.indexOf(`  - alarm: ${key}\n`);
  if (!key || start < 0) return;
  const rest = standard.slice(start + 4);
  const end = rest.search(/\n\n|\n {2}- alarm:/);
  byId('text').value = `alarms:\n  - ${end < 0 ? rest : rest.slice(0, end)}\n`;
}

async function fire(event) {
  event.preventDefault();
  setText(byId('said'), 'Firing against history…');
  byId('outcome').hidden = true;
  const from = new Date(Date.now() - Number(byId('days').value) * 86_400_000).toISOString();
  try {
    const fired = await send('POST', '/api/v1/alarm-definitions/trial', { text: byId('text').value, from });
    setText(byId('said'), `It would have come ${plural(fired.count, 'time')}${fired.meanDurationS === undefined ? '' : `, for ${age(1000 * fired.meanDurationS)} in the mean`}; judged every ${age(1000 * fired.judgedEveryS)}, without a value in ${number(100 * fired.unknownShare, 0)} % of judgements.`);
    rows('spans', fired.spans.map((span) => [span.source, dateAndTime(span.from, shell.zone), span.until ? dateAndTime(span.until, shell.zone) : 'still there', age(Date.parse(span.until ?? fired.to) - Date.parse(span.from))]));
    byId('outcome').hidden = false;
  } catch (error) {
    setText(byId('said'), error.message);
  }
}

byId('key').addEventListener('change', copy);
byId('fire').addEventListener('submit', fire);
me().then(({ role }) => { byId('needs').hidden = ['engineer', 'administrator'].includes(role); }, () => {});
begin();
