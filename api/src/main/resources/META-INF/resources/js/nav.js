/** The pages, one line each; every page has an empty <nav id="nav"> that this fills. */

import { byId, h } from './dom.js';

const PAGES = [
  ['/', 'Fleet'],
  ['/trends.html', 'Trends'],
  ['/data-quality.html', 'Data quality'],
  ['/help.html', 'Help'],
];

const here = location.pathname === '/index.html' ? '/' : location.pathname;

byId('nav').replaceChildren(...PAGES.map(([path, title]) => h('a', { href: path, 'aria-current': path === here ? 'page' : null }, title)));
