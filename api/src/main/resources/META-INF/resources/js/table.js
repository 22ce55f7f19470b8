/** Tables that turn into lists on a phone: each cell carries the title of its column. */

import { byId, h } from './dom.js';

/** Fills the table with that id; "no-" and the id is the text that stands for an empty one. A cell is a text or a node. */
export function rows(id, all) {
  const table = byId(id);
  const titles = [...table.tHead.rows[0].cells].map((cell) => cell.textContent);
  const classes = [...table.tHead.rows[0].cells].map((cell) => cell.className);
  table.tBodies[0].replaceChildren(...all.map((cells) => h('tr', {}, ...cells.map((cell, n) => (n === 0
    ? h('th', { scope: 'row', 'data-title': titles[n] }, cell) : h('td', { class: classes[n] || null, 'data-title': titles[n] }, cell))))));
  table.hidden = all.length === 0;
  byId(`no-${id}`).hidden = all.length > 0;
}
