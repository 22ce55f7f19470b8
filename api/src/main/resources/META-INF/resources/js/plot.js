/** A plot of one quantity over time: several units over each other, work marked, forecasts as fans; drawn as SVG. */

import { h, setText, svg } from './dom.js';
import { dateAndTime, number } from './format.js';
import { runs } from './sparkline.js';
import { timeMarks, valueMarks } from './time-scale.js';

const LEFT = 58;
const RIGHT = 14;
const TOP = 14;
const FOOT = 22;
const LEAST_DRAG = 6;

/** Dashes tell lines apart without colour; the classes add a hue. */
export const DASHES = ['', '7 3', '2 3', '10 3 2 3', '5 5', '1 2'];

export class Plot {
  /**
   * @param look { title, label, scale, offset, decimals, leastSpread } how values are shown
   * @param lines [{ unit, buckets }] in the order of the units; buckets of { start, min, max, mean, count, good }
   * @param marks [{ at, until, text }] of work
   * @param fans [{ unit, at, level, limit, median, lower80, upper80, lower95, upper95 }] instants in ms or null
   * @param view shared { from, to, zone, cursor(ms|null), zoom(from, to), wider() }
   */
  constructor(key, look, lines, marks, fans, view) {
    Object.assign(this, { key, look, marks, fans, view });
    this.lines = lines.map((line) => ({ ...line, runs: runs(line.buckets) }));
    this.readouts = new Map(lines.map((line, n) => [line.unit, h('span', { class: `readout line-${n % 6}` }, swatch(n), h('b', {}, line.unit), h('span', {}))]));
    this.holder = h('div', { class: 'plot-area', tabindex: 0, role: 'slider', 'aria-label': `${look.title}, cursor`, 'aria-orientation': 'horizontal' });
    this.node = h('figure', { class: 'plot card', 'data-quantity': key },
      h('figcaption', {}, h('span', { class: 'plot-title' }, look.title, look.label ? h('span', { class: 'sub' }, ` ${look.label}`) : null),
        h('span', { class: 'readouts' }, ...this.readouts.values())), this.holder);
    this.wire();
  }

  /** Draws for the width there is. */
  draw(width, height = 210) {
    this.width = width;
    this.height = height;
    const { from, to, zone } = this.view;
    const { low, high } = this.range();
    this.x = (time) => LEFT + (width - LEFT - RIGHT) * (time - from) / (to - from);
    this.y = (value) => TOP + (height - TOP - FOOT) * (1 - (value - low) / (high - low));
    this.line = svg('path', { class: 'plot-cursor' });
    this.drag = svg('rect', { class: 'plot-drag', y: TOP, height: height - TOP - FOOT, width: 0 });
    this.holder.replaceChildren(svg('svg', { class: 'plot-svg', viewBox: `0 0 ${width} ${height}`, width, height, 'aria-hidden': 'true' },
      valueMarks(low, high, 5).map(({ at, text }) => svg('g', {}, svg('path', { class: 'plot-grid', d: `M${LEFT} ${this.y(at).toFixed(1)}H${width - RIGHT}` }),
        svg('text', { class: 'plot-number', x: LEFT - 7, y: (this.y(at) + 4).toFixed(1), 'text-anchor': 'end' }, text))),
      timeMarks(from, to, zone, Math.max(2, Math.floor((width - LEFT) / 90))).map(({ at, text }) => svg('g', {}, svg('path', { class: 'plot-grid', d: `M${this.x(at).toFixed(1)} ${height - FOOT}v4` }),
        svg('text', { class: 'plot-number', x: this.x(at).toFixed(1), y: height - 5, 'text-anchor': 'middle' }, text))),
      svg('svg', { x: LEFT, y: 0, width: width - LEFT - RIGHT, height, viewBox: `${LEFT} 0 ${width - LEFT - RIGHT} ${height}` },
        this.future(), this.marks.map((mark) => this.mark(mark)), this.lines.flatMap((line, n) => this.band(line, n)), this.fans.map((fan) => this.fan(fan)),
        this.lines.flatMap((line, n) => this.mean(line, n)), this.drag, this.line)));
    this.empty();
    this.cursor(this.view.cursorAt);
  }

  empty() {
    if (this.lines.some((line) => line.runs.length)) return;
    this.holder.append(h('p', { class: 'plot-empty' }, 'No values in this time.'));
  }

  shown(value) {
    return value * this.look.scale + (this.look.offset ?? 0);
  }

  range() {
    const buckets = this.lines.flatMap((line) => line.runs.flat());
    const values = buckets.flatMap((bucket) => [bucket.min, bucket.max]).map((value) => this.shown(value));
    const limits = this.fans.filter((fan) => fan.limit !== null && inside(fan, this.view)).map((fan) => this.shown(fan.limit));
    const all = [...values, ...limits];
    if (all.length === 0) return { low: 0, high: 1 };
    const low = all.reduce((a, b) => Math.min(a, b));
    const high = all.reduce((a, b) => Math.max(a, b));
    const spread = Math.max((high - low) * 1.08, this.look.leastSpread ?? 0, 1e-9 + Math.abs(high) * 1e-3);
    return { low: (low + high - spread) / 2, high: (low + high + spread) / 2 };
  }

  path(points) {
    return points.map(([time, value], n) => `${n ? 'L' : 'M'}${this.x(time).toFixed(1)} ${this.y(this.shown(value)).toFixed(1)}`).join('');
  }

  band(line, n) {
    return line.runs.map((run) => svg('path', { class: `plot-band line-${n % 6}`,
      d: `${this.path(run.map((b) => [b.time, b.max]))}${this.path(run.map((b) => [b.time, b.min]).reverse()).replace('M', 'L')}Z` }));
  }

  mean(line, n) {
    return line.runs.map((run) => svg('path', { class: `plot-line line-${n % 6}`, 'stroke-dasharray': DASHES[n % 6] || null,
      d: run.length > 1 ? this.path(run.map((b) => [b.time, b.mean])) : `${this.path([[run[0].time, run[0].mean]])}h2` }));
  }

  /** What is still to come lies beyond a thin line. */
  future() {
    const { now, to } = this.view;
    if (!(to > now + 1000)) return null;
    const x = this.x(now).toFixed(1);
    return svg('g', { class: 'plot-future' }, svg('rect', { x, y: TOP, width: Math.max(0, this.width - x), height: this.height - TOP - FOOT }), svg('path', { d: `M${x} ${TOP}V${this.height - FOOT}` }));
  }

  mark({ at, until, text }) {
    const x = this.x(at);
    const width = Math.max(0, this.x(until) - x);
    return svg('g', { class: 'plot-mark' }, svg('title', {}, text),
      width > 2 ? svg('rect', { x: x.toFixed(1), y: TOP, width: width.toFixed(1), height: this.height - TOP - FOOT }) : null,
      svg('path', { d: `M${x.toFixed(1)} ${TOP}V${this.height - FOOT}` }), svg('path', { class: 'solid', d: `M${(x - 5).toFixed(1)} ${TOP}h10l-5 7z` }));
  }

  /** From the level of today to the limit, between the ends of each interval; without an end it goes on to the border. */
  fan(fan) {
    if (fan.limit === null || fan.level === null) return null;
    const { to } = this.view;
    const end = (time) => (time === null ? [to, fan.level] : [time, fan.limit]);
    const wedge = (early, late, name) => (early === null ? null
      : svg('path', { class: name, d: `${this.path([[fan.at, fan.level], end(early), end(late)])}Z` }));
    return svg('g', { class: 'plot-fan' }, svg('path', { class: 'fan-limit', d: `M${LEFT} ${this.y(this.shown(fan.limit)).toFixed(1)}H${this.width}` }),
      svg('text', { class: 'plot-number', x: LEFT + 6, y: (this.y(this.shown(fan.limit)) - 4).toFixed(1) }, `limit of ${fan.unit}`),
      wedge(fan.lower95, fan.upper95, 'fan-95'), wedge(fan.lower80, fan.upper80, 'fan-80'),
      fan.median === null ? null : svg('path', { class: 'fan-line', d: this.path([[fan.at, fan.level], [fan.median, fan.limit]]) }));
  }

  /** Shows the cursor and the values there. */
  cursor(at) {
    if (!this.x) return;
    const { from, to, zone } = this.view;
    const visible = at !== null && at >= from && at <= to;
    this.line.setAttribute('d', visible ? `M${this.x(at).toFixed(1)} ${TOP}V${this.height - FOOT}` : '');
    const texts = [];
    this.lines.forEach((line) => {
      const bucket = visible ? nearest(line.runs, at) : newest(line.runs);
      const text = bucket ? this.words(bucket) : visible ? 'no value' : '';
      setText(this.readouts.get(line.unit).lastChild, text && ` ${text}`);
      texts.push(`${line.unit} ${text || 'no value'}`);
    });
    const here = visible ? at : to;
    this.holder.setAttribute('aria-valuemin', Math.round(from / 1000));
    this.holder.setAttribute('aria-valuemax', Math.round(to / 1000));
    this.holder.setAttribute('aria-valuenow', Math.round(here / 1000));
    this.holder.setAttribute('aria-valuetext', `${dateAndTime(here, zone)}: ${texts.join(', ')}`);
  }

  words(bucket) {
    const text = (value) => number(this.shown(value), this.look.decimals);
    const mean = text(bucket.mean);
    return bucket.max > bucket.min && (text(bucket.min) !== mean || text(bucket.max) !== mean) ? `${mean} (${text(bucket.min)} to ${text(bucket.max)})` : mean;
  }

  wire() {
    let start = null;
    const time = (event) => {
      const box = this.holder.getBoundingClientRect();
      const share = (event.clientX - box.left - LEFT) / (box.width - LEFT - RIGHT);
      return this.view.from + Math.min(1, Math.max(0, share)) * (this.view.to - this.view.from);
    };
    this.holder.addEventListener('pointerdown', (event) => {
      if (event.button !== 0 || event.pointerType === 'touch') return;
      start = { x: event.clientX, at: time(event) };
      this.holder.setPointerCapture(event.pointerId);
    });
    this.holder.addEventListener('pointermove', (event) => {
      const at = time(event);
      this.view.cursor(at);
      if (!start) return;
      const [a, b] = [this.x(start.at), this.x(at)].sort((p, q) => p - q);
      this.drag.setAttribute('x', a);
      this.drag.setAttribute('width', b - a);
    });
    this.holder.addEventListener('pointerup', (event) => {
      const begun = start;
      start = null;
      this.drag.setAttribute('width', 0);
      if (!begun || Math.abs(event.clientX - begun.x) < LEAST_DRAG) return;
      const [a, b] = [begun.at, time(event)].sort((p, q) => p - q);
      this.view.zoom(a, b);
    });
    this.holder.addEventListener('pointerleave', () => start || this.view.cursor(null));
    this.holder.addEventListener('dblclick', () => this.view.wider());
    this.holder.addEventListener('keydown', (event) => this.pressed(event));
  }

  pressed(event) {
    const { from, to, cursorAt } = this.view;
    const at = cursorAt ?? (from + to) / 2;
    const step = (to - from) / (event.shiftKey ? 10 : 100);
    const moves = { ArrowLeft: at - step, ArrowRight: at + step, Home: from, End: to };
    if (event.key in moves) this.view.cursor(Math.min(to, Math.max(from, moves[event.key])));
    else if (event.key === '+' || event.key === '=') this.view.zoom(at - (to - from) / 4, at + (to - from) / 4);
    else if (event.key === '-') this.view.wider();
    else return;
    event.preventDefault();
  }
}

/** A limit far beyond the time that is shown would press the values flat. */
const inside = (fan, { to }) => (fan.lower95 ?? Infinity) < to;

function swatch(n) {
  return svg('svg', { width: 22, height: 8, viewBox: '0 0 22 8', 'aria-hidden': 'true' }, svg('path', { class: `plot-line line-${n % 6}`, d: 'M0 4H22', 'stroke-dasharray': DASHES[n % 6] || null }));
}

function nearest(parts, at) {
  for (const run of parts) {
    const step = run.length > 1 ? run[1].time - run[0].time : 60_000;
    if (at < run[0].time || at > run[run.length - 1].time + step) continue;
    let low = 0;
    let high = run.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (run[middle].time <= at) low = middle;
      else high = middle - 1;
    }
    return run[low];
  }
  return null;
}

const newest = (parts) => (parts.length ? parts[parts.length - 1].at(-1) : null);
