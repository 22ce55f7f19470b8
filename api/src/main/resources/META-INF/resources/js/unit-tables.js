/** The tables of the unit page: every point, every figure, and what the nameplate promises. */

import { POINT_GROUP_ORDER, figureTitle, pointGroup, pointTitle } from './catalogue.js';
import { doubt } from './diagram.js';
import { h, setAttribute, setDrawing, setText } from './dom.js';
import { age, timeOfDay } from './format.js';
import { dataMark } from './symbols.js';
import { figureText } from './unit-blocks.js';
import { hasValue, shown } from './units.js';

class PointRow {
  constructor(point) {
    this.value = h('td', { class: 'n value' });
    this.unit = h('td', { class: 'sub' });
    this.mark = h('span', { class: 'symbol' });
    this.quality = h('span', {});
    this.code = h('span', { class: 'code' });
    this.age = h('td', { class: 'n sub' });
    this.node = h('tr', { 'data-point': point.point }, h('th', { scope: 'row' }, pointTitle(point.point), h('span', { class: 'sub name' }, point.point)),
      this.value, this.unit, h('td', {}, this.mark, this.quality, this.code), this.age);
  }

  show(point, now) {
    const reason = doubt(point, now);
    const known = point.value !== null && point.value !== undefined;
    const { text, unit } = known ? shown(point.value, point.unit, point.quantity) : { text: '–', unit: '' };
    setText(this.value, text);
    setText(this.unit, unit);
    setDrawing(this.mark, reason?.kind ?? '', () => (reason ? dataMark(reason.kind) : document.createTextNode('')));
    setText(this.quality, reason?.word ?? point.quality);
    setText(this.code, point.code ? `code 0x${point.code.toString(16).toUpperCase().padStart(8, '0')}` : '');
    setAttribute(this.node, 'data-doubt', reason?.kind ?? null);
    setText(this.age, point.measuredAt ? age(now - Date.parse(point.measuredAt)) : '');
  }
}

export class PointsTable {
  constructor(node) {
    this.node = node;
    this.rows = new Map();
  }

  show(points, now) {
    const key = points.map((point) => point.point).join();
    setDrawing(this.node, key, () => this.build(points));
    points.forEach((point) => this.rows.get(point.point).show(point, now));
  }

  build(points) {
    this.rows = new Map(points.map((point) => [point.point, new PointRow(point)]));
    const all = document.createDocumentFragment();
    for (const group of POINT_GROUP_ORDER) {
      const members = points.filter((point) => pointGroup(point.point) === group);
      if (members.length) all.append(this.table(group, members));
    }
    return all;
  }

  table(group, members) {
    return h('table', { class: 'points' }, h('caption', {}, group),
      h('thead', {}, h('tr', {}, ...['point', 'value', 'unit', 'quality', 'age'].map((title) => h('th', { scope: 'col', class: title === 'value' || title === 'age' ? 'n' : null }, title)))),
      h('tbody', {}, ...members.map((point) => this.rows.get(point.point).node)));
  }
}

export function showFigures(body, figures, zone) {
  const entries = Object.values(figures);
  setDrawing(body, entries.map((figure) => figure.key).join(), () => {
    const all = document.createDocumentFragment();
    entries.forEach((figure) => all.append(h('tr', { 'data-figure': figure.key }, h('th', { scope: 'row' }, figureTitle(figure.key)), h('td', { class: 'value' }), h('td', { class: 'sub' }))));
    return all;
  });
  entries.forEach((figure, n) => {
    const [, value, about] = body.children[n].children;
    setText(value, figureText(figure));
    value.classList.toggle('none', !hasValue(figure));
    const window = hasValue(figure) && figure.from ? `from ${timeOfDay(figure.from, zone).slice(0, 8)} to ${timeOfDay(figure.to, zone)}` : null;
    setText(about, figure.sentence ?? figure.detail ?? window ?? '');
  });
}

const PLATE = [
  ['ratedDutyW', 'rated duty', 'W'], ['ratedApproachK', 'rated approach', 'K'], ['ratedTcsFlowM3PerS', 'rated loop flow', 'm3/s'],
  ['ratedFwsFlowM3PerS', 'rated facility flow', 'm3/s'], ['availableHeadPa', 'head for the racks', 'Pa'], ['designFwsDpPa', 'facility Δp it is rated for', 'Pa'],
  ['designFwsSupplyTemperatureC', 'facility supply it is rated for', 'Cel'], ['filterTerminalDpPa', 'Δp at which a filter is due', 'Pa'], ['plateAreaM2', 'plate area', 'm2'],
  ['loopVolumeM3', 'loop volume', 'm3'], ['reservoirVolumeM3', 'reservoir volume', 'm3'],
];

export function showNameplate(list, nameplate) {
  const coolant = nameplate.tcsCoolant;
  const rows = [
    ...PLATE.filter(([key]) => typeof nameplate[key] === 'number').map(([key, title, unit]) => [title, Object.values(shown(nameplate[key], unit)).filter(Boolean).join(' ')]),
    ...(typeof coolant === 'string' ? [['coolant', coolant]] : []),
    ['pumps', `${nameplate.pumps}${nameplate.pumpsNeeded ? `, ${nameplate.pumpsNeeded} needed for rated flow` : ''}`],
    ['exchangers', String(nameplate.exchangers)], ['filters', String(nameplate.filters)],
  ];
  list.replaceChildren(...rows.map(([title, value]) => h('div', {}, h('dt', {}, title), h('dd', {}, value))));
}
