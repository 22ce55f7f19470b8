/** What a shift tells the next, and what happened to alarms meanwhile. */

import { alarmPage, EVENTS, stateWord } from './alarm-words.js';
import { byId, h, setText } from './dom.js';
import { dateAndTime, plural } from './format.js';
import { get, me, send, siteZone } from './service.js';
import { Shell } from './shell.js';
import { rows } from './table.js';

const shell = new Shell();

async function refresh() {
  try {
    shell.zone ??= await siteZone();
    const from = `from=${encodeURIComponent(new Date(Date.now() - Number(byId('days').value) * 86_400_000).toISOString())}`;
    const [notes, history] = await Promise.all([get(`/api/v1/shift-log?${from}`), get(`/api/v1/alarm-history?${from}`)]);
    setText(byId('headline'), `${plural(notes.length, 'note')} and ${plural(history.length, 'change')} of alarms`);
    rows('notes', notes.map((note) => [dateAndTime(note.at, shell.zone), note.who, note.about, note.note]));
    rows('history', history.slice(-500).reverse().map((line) => [dateAndTime(line.at, shell.zone), h('a', { href: alarmPage(line.alarm) }, line.alarm), EVENTS[line.event] ?? line.event, stateWord(line.to), line.who, line.why ?? '']));
    byId('content').hidden = false;
    shell.connection({ connected: true });
  } catch (error) {
    shell.connection({ connected: false, since: Date.now(), error });
  }
}

byId('write').addEventListener('submit', async (event) => {
  event.preventDefault();
  try {
    await send('POST', '/api/v1/shift-log', { note: byId('note').value, about: byId('about').value });
    byId('write').reset();
    setText(byId('said'), 'Written down.');
    await refresh();
  } catch (error) {
    setText(byId('said'), error.message);
  }
});
byId('days').addEventListener('change', refresh);
me().then(({ role }) => { byId('write-card').hidden = !['operator', 'engineer', 'administrator'].includes(role); }, () => {});
refresh();
