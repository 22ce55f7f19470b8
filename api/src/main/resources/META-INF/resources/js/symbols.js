/** Small drawings: the status signals, marks for doubtful data, the reserve bar. Always beside a word, never alone. */

import { K95 } from './catalogue.js';
import { setAttribute, svg } from './dom.js';

const SHAPES = {
  failure: () => [svg('circle', { cx: 8, cy: 8, r: 7, class: 'solid' }), svg('path', { d: 'M5 5l6 6M11 5l-6 6', class: 'cut' })],
  'function-check': () => [svg('path', { d: 'M8 1.8l6.6 12.2H1.4z' }), svg('path', { d: 'M8 6.4v3.4M8 11.2v1.2' })],
  'out-of-specification': () => [svg('path', { d: 'M8 1.2l6.8 6.8L8 14.8 1.2 8z' }), svg('circle', { cx: 8, cy: 8, r: 1.6, class: 'solid' })],
  'maintenance-required': () => [svg('rect', { x: 2, y: 2, width: 12, height: 12, rx: 1.5 }), svg('path', { d: 'M5 8h6M8 5v6' })],
  good: () => [svg('circle', { cx: 8, cy: 8, r: 2.4, class: 'quiet' })],
  'not-judged': () => [svg('circle', { cx: 8, cy: 8, r: 3.4 })],
  unknown: () => [svg('circle', { cx: 8, cy: 8, r: 6, 'stroke-dasharray': '2.5 2.2' })],
};

export function signalSymbol(code) {
  const shape = SHAPES[code] ?? SHAPES.unknown;
  return svg('svg', { class: `signal ${code in SHAPES ? code : 'unknown'}`, viewBox: '0 0 16 16', width: 16, height: 16, 'aria-hidden': 'true' }, shape());
}

const MARKS = {
  stale: () => [svg('circle', { cx: 7, cy: 7, r: 5.6 }), svg('path', { d: 'M7 3.6V7l2.4 1.6' })],
  uncertain: () => [svg('path', { d: 'M7 1.2L12.8 7 7 12.8 1.2 7z' })],
  bad: () => [svg('rect', { x: 1.5, y: 1.5, width: 11, height: 11 }), svg('path', { d: 'M4 4l6 6M10 4l-6 6' })],
  missing: () => [svg('circle', { cx: 7, cy: 7, r: 5.6, 'stroke-dasharray': '2 2' })],
};

/** Mark for data that is stale, uncertain, bad or missing. */
export function dataMark(kind, place) {
  return svg('svg', { class: `mark ${kind}`, viewBox: '0 0 14 14', width: 12, height: 12, 'aria-hidden': 'true', ...place }, MARKS[kind]());
}

const WIDTH = 92;
const FULL = 1.6;
const at = (ratio) => WIDTH * Math.min(1, Math.max(0, ratio / FULL));

/** Bar of reserve: 0 to 160 % of what was promised, a post at 100 %, the 95 % interval as whisker. */
export class ReserveBar {
  constructor() {
    this.fill = svg('rect', { x: 0, y: 4, height: 8, class: 'bar-fill' });
    this.whisker = svg('path', { class: 'bar-whisker' });
    this.node = svg('svg', { class: 'bar', viewBox: `0 0 ${WIDTH} 16`, width: WIDTH, height: 16, 'aria-hidden': 'true' },
      svg('rect', { x: 0, y: 4, width: WIDTH, height: 8, class: 'bar-track' }), this.fill,
      svg('path', { d: `M${at(1).toFixed(1)} 1v14`, class: 'bar-promise' }), this.whisker);
  }

  show(value, standardUncertainty) {
    const low = at(value - K95 * standardUncertainty).toFixed(1);
    const high = at(value + K95 * standardUncertainty).toFixed(1);
    setAttribute(this.fill, 'width', at(value).toFixed(1));
    setAttribute(this.whisker, 'd', `M${low} 8H${high}M${low} 5v6M${high} 5v6`);
  }
}
