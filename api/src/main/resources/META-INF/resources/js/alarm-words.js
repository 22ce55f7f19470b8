/** Words and shapes of alarms: priorities, states, times left. Always a shape and a word, never colour alone. */

import { h, svg } from './dom.js';
import { age } from './format.js';

const SHAPES = {
  high: () => svg('path', { d: 'M8 1.2L15.2 14.4H0.8z', class: 'solid' }),
  medium: () => svg('path', { d: 'M8 1l7 7-7 7-7-7z', class: 'solid' }),
  low: () => svg('rect', { x: 2, y: 2, width: 12, height: 12, rx: 1.5 }),
};

/** The shape of a priority; hollow once somebody acknowledged it. */
export function prioritySymbol(priority, quiet) {
  return svg('svg', { class: `priority ${priority}${quiet ? ' quiet' : ''}`, viewBox: '0 0 16 16', width: 16, height: 16, 'aria-hidden': 'true' }, (SHAPES[priority] ?? SHAPES.low)());
}

export const priorityMark = (priority, quiet) => h('span', { class: `priority-word ${priority}` }, prioritySymbol(priority, quiet), ` ${priority}`);

const STATES = {
  normal: 'normal',
  unacknowledged: 'unacknowledged',
  acknowledged: 'acknowledged',
  'returned-unacknowledged': 'returned, unacknowledged',
  'latched-unacknowledged': 'latched, unacknowledged',
  'latched-acknowledged': 'latched, acknowledged: to be reset',
  shelved: 'shelved',
  'suppressed-by-design': 'suppressed by design',
  'out-of-service': 'out of service',
};

export const stateWord = (state) => STATES[state] ?? state;

export const placeWord = (place) => (place.startsWith('hall:') ? `Hall ${place.slice(5)}` : place.startsWith('connection:') ? `connection ${place.slice(11)}` : place.startsWith('service:') ? `service, ${place.slice(8)}` : place);

/** "41 min left", "over since 3 min". */
export function timeLeft(respondBy, now) {
  const left = Date.parse(respondBy) - now;
  return left > 0 ? `${age(left)} left to respond` : `time to respond is over since ${age(-left)}`;
}

export const alarmPath = (id) => {
  const slash = id.indexOf('/');
  return `/api/v1/alarms/${encodeURIComponent(id.slice(0, slash))}/${encodeURIComponent(id.slice(slash + 1))}`;
};

export const alarmPage = (id) => `/alarm.html?id=${encodeURIComponent(id)}`;

export const sourceLink = (source) => (source.includes(':') ? placeWord(source) : h('a', { href: `/unit.html?id=${encodeURIComponent(source)}` }, source));

export const EVENTS = {
  occur: 'the condition occurred', clear: 'the condition cleared', acknowledge: 'acknowledged', reset: 'reset', realarm: 'alarmed again',
  shelve: 'shelved', unshelve: 'taken off the shelf', suppress: 'suppressed by design', unsuppress: 'no longer suppressed',
  remove: 'taken out of service', return: 'returned to service',
};
