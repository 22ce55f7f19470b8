/** A small trend of one point: band from least to most, line of the mean, gaps as gaps, doubtful stretches marked below. */

import { h, svg } from './dom.js';
import { dateAndTime, timeOfDay } from './format.js';
import { shown } from './units.js';

const WIDTH = 300;
const HEIGHT = 56;
const FOOT = 5;

/** Runs of neighbouring buckets: a missing bucket or one without samples ends a run. */
export function runs(buckets) {
  const filled = buckets.filter((bucket) => bucket.count > 0 && Number.isFinite(bucket.mean));
  const times = filled.map((bucket) => Date.parse(bucket.start));
  const steps = times.slice(1).map((time, n) => time - times[n]).sort((a, b) => a - b);
  const usual = steps[Math.floor(steps.length / 2)] ?? 0;
  const found = [];
  filled.forEach((bucket, n) => {
    if (n === 0 || times[n] - times[n - 1] > 2.5 * usual) found.push([]);
    found[found.length - 1].push({ ...bucket, time: times[n] });
  });
  return found;
}

/** A figure element that shows a series between two instants. */
export function sparkline({ title, series, quantity, from, to, zone }) {
  const parts = runs(series.buckets ?? []);
  const all = parts.flat();
  if (all.length === 0) {
    return h('figure', { class: 'spark' }, h('figcaption', {}, title, h('span', { class: 'sub' }, ' no values in this time')));
  }
  const low = Math.min(...all.map((bucket) => bucket.min));
  const high = Math.max(...all.map((bucket) => bucket.max));
  const display = (value) => Object.values(shown(value, series.unit, quantity)).filter(Boolean).join(' ');
  const range = `${display(low)} to ${display(high)}`;
  return h('figure', { class: 'spark' },
    h('figcaption', {}, title, h('span', { class: 'sub' }, range)),
    drawing({ parts, low, high, least: leastSpread(quantity, Math.max(Math.abs(low), Math.abs(high))), from, to, label: `${title} from ${dateAndTime(from, zone)} to ${dateAndTime(to, zone)}: ${range}` }),
    h('div', { class: 'spark-times sub' }, h('span', {}, to - from > 86_400_000 ? dateAndTime(from, zone).slice(0, 10) : timeOfDay(from, zone).slice(0, 5)), h('span', {}, 'now')));
}

/** Least height of a plot, so that noise does not look like an event; in the system's own units. */
const leastSpread = (quantity, size) => ({ temperature: 1, 'temperature-difference': 1, ratio: 0.05 })[quantity] ?? (0.04 * size || 1);

function drawing({ parts, low, high, least, from, to, label }) {
  const spread = Math.max(high - low, least);
  const base = (high + low - spread) / 2;
  const x = (time) => (WIDTH * (time - from) / (to - from)).toFixed(1);
  const y = (value) => (2 + (HEIGHT - FOOT - 4) * (1 - (value - base) / spread)).toFixed(1);
  const path = (points) => points.map(([time, value], n) => `${n ? 'L' : 'M'}${x(time)} ${y(value)}`).join('');
  return svg('svg', { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, preserveAspectRatio: 'none', role: 'img', 'aria-label': label },
    parts.map((run) => svg('path', { class: 'spark-band',
      d: `${path(run.map((b) => [b.time, b.max]))}${path(run.map((b) => [b.time, b.min]).reverse()).replace('M', 'L')}Z` })),
    parts.map((run) => svg('path', { class: 'spark-line', d: run.length > 1 ? path(run.map((b) => [b.time, b.mean])) : `${path([[run[0].time, run[0].mean]])}h1.5` })),
    parts.flat().filter((bucket) => bucket.good < bucket.count).map((bucket) => svg('path', { class: 'spark-doubt', d: `M${x(bucket.time)} ${HEIGHT}v-4` })));
}
