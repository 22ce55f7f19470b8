/** The pages, one line each, and who is signed in; every page has an empty <nav id="nav"> that this fills. */

import { byId, h } from './dom.js';
import { me, send } from './service.js';

const ROLES = ['viewer', 'operator', 'engineer', 'administrator'];

/** The third is the least role that sees the page, where it is not for everybody. */
const PAGES = [
  ['/', 'Fleet'],
  ['/alarms.html', 'Alarms'],
  ['/trends.html', 'Trends'],
  ['/maintenance.html', 'Maintenance'],
  ['/compare.html', 'Compare'],
  ['/data-quality.html', 'Data quality'],
  ['/units.html', 'Units', 'engineer'],
  ['/people.html', 'People', 'administrator'],
  ['/help.html', 'Help'],
];

const here = location.pathname === '/index.html' ? '/' : location.pathname;

function show(role) {
  byId('nav').replaceChildren(...PAGES.filter(([, , only]) => !only || ROLES.indexOf(role) >= ROLES.indexOf(only))
    .map(([path, title]) => h('a', { href: path, 'aria-current': path === here ? 'page' : null }, title)));
}

function showPerson({ name, role }) {
  if (ROLES.indexOf(role) > 1) show(role);
  document.querySelector('.aside')?.append(name
    ? h('span', { class: 'person' }, h('a', { href: '/account.html', title: `signed in as ${role}` }, name), h('button', { type: 'button', class: 'plain', onclick: leave }, 'sign out'))
    : h('a', { class: 'person', href: `/sign-in.html?to=${encodeURIComponent(location.pathname + location.search)}` }, 'sign in'));
}

async function leave() {
  await send('POST', '/api/v1/sign-out');
  location.assign('/sign-in.html');
}

show();
me().then(showPerson, () => {});
