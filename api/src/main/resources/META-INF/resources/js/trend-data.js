/** What the trend page asks of the service, and how each quantity is shown. */

import { capital, figureTitle, pointTitle } from './catalogue.js';
import { get } from './service.js';
import { displayOf } from './units.js';

const DAY = 86_400_000;

/** Points have a dot in their name, figures have none. */
export const isPoint = (key) => key.includes('.') && !key.startsWith('signal.');

export const titleOf = (key) => capital(isPoint(key) ? pointTitle(key) : figureTitle(key));

/** One quantity of one unit as buckets of { start, min, max, mean, count, good }, with the unit of measure of its values. */
export async function series(unit, key, from, to, width) {
  const kind = isPoint(key) ? 'points' : 'figures';
  const query = new URLSearchParams({ from: new Date(from).toISOString(), to: new Date(to).toISOString(), width });
  const got = await get(`/api/v1/units/${encodeURIComponent(unit)}/${kind}/${encodeURIComponent(key)}/series?${query}`);
  const buckets = isPoint(key) ? got.buckets : got.buckets.map((bucket) => ({ ...bucket, count: bucket.values, good: bucket.values }));
  return { unit, ucum: got.unit, buckets, step: got.stepSeconds };
}

export async function forecasts(unit) {
  const got = await get(`/api/v1/units/${encodeURIComponent(unit)}/forecasts`);
  const time = (days, at) => (typeof days === 'number' ? at + days * DAY : null);
  return got.map((each) => {
    const at = Date.parse(each.at);
    return { ...each, unit, at, median: time(each.medianDays, at), lower80: time(each.lower80Days, at), upper80: time(each.upper80Days, at),
      lower95: time(each.lower95Days, at), upper95: time(each.upper95Days, at) };
  });
}

/** How values of a quantity are shown: { title, label, scale, offset, decimals, leastSpread }. */
export function lookOf(key, ucum, quantity, size) {
  const display = displayOf(quantity, size, ucum);
  const leastSpread = { Cel: 1, K: 0.2, 1: 0.02 }[ucum] ?? 0;
  return { title: titleOf(key), label: display.label, scale: display.scale, offset: display.offset ?? 0, decimals: display.decimals, leastSpread: leastSpread * display.scale };
}

const quoted = (text) => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);

/** What is seen, one line a unit, quantity and step; times in UTC, values in the unit named beside them. */
export function csv(plots) {
  const lines = ['time_utc,unit,quantity,unit_of_measure,least,mean,greatest,standard_uncertainty,values'];
  for (const { key, ucum, lines: all } of plots) {
    for (const { unit, buckets } of all) {
      for (const b of buckets) {
        lines.push([b.start, quoted(unit), key, quoted(ucum ?? ''), b.min ?? '', b.mean ?? '', b.max ?? '', b.standardUncertainty ?? '', b.count ?? 0].join(','));
      }
    }
  }
  return `${lines.join('\r\n')}\r\n`;
}
