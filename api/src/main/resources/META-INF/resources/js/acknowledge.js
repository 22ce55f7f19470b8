/** Opened from a message: shows one alarm and acknowledges it on a press of the button, without signing in. */

import { placeWord, priorityMark, stateWord, timeLeft } from './alarm-words.js';
import { byId, h, setText } from './dom.js';
import { post, send } from './service.js';

const key = location.hash.slice(1);

function show({ at, alarm, person, over, said }) {
  const now = Date.parse(at);
  setText(byId('headline'), alarm ? `${placeWord(alarm.source)}: ${alarm.title}` : 'This alarm is over');
  byId('state').replaceChildren(...(alarm ? [priorityMark(alarm.priority, over), h('span', {}, ` · ${stateWord(alarm.state)}${alarm.respondBy && !over ? ` · ${timeLeft(alarm.respondBy, now)}` : ''}`)] : []));
  const facts = alarm ? [['Seen', alarm.evidence], ['Probable cause', alarm.cause], ['If nobody acts', alarm.consequence], ['First', alarm.firstAction]] : [];
  byId('why').replaceChildren(...facts.filter(([, value]) => value).flatMap(([title, value]) => [h('dt', {}, title), h('dd', { class: title === 'First' ? 'first' : null }, value)]));
  byId('acknowledge').hidden = over;
  setText(byId('acknowledge'), `Acknowledge as ${person}`);
  setText(byId('said'), said || (over ? 'There is nothing left to acknowledge.' : ''));
  byId('more').hidden = !alarm;
  if (alarm) byId('more').href = `/alarm.html?id=${encodeURIComponent(alarm.id)}`;
}

async function attempt(what) {
  try {
    show(await what());
    byId('trouble').hidden = true;
  } catch (error) {
    setText(byId('trouble'), error.message);
    byId('trouble').hidden = false;
    if (error.status === 403) setText(byId('headline'), 'This link does not work');
  }
}

byId('acknowledge').addEventListener('click', () => attempt(() => send('POST', '/api/v1/acknowledgement', { key })));
attempt(() => post('/api/v1/acknowledgement/view', { key }));
