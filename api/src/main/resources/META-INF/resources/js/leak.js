/** Why a leak is suspected or not: reasons in words, and the content of the loop over two days. */

import { h } from './dom.js';
import { sparkline } from './sparkline.js';

const FIGURES = ['unexplained-loss', 'smallest-visible-loss'];
const PLOT_EVERY_MS = 600_000;

/** Sentences about losses, then one of each source of evidence. */
export function leakReasons(unit) {
  const figures = FIGURES.filter((key) => unit.figures?.[key]?.value != null).map((key) => unit.sentences?.[key]);
  return [...(unit.leak?.reasons ?? []).map((reason) => reason.sentence), ...figures].filter(Boolean);
}

export const leakList = (reasons) => h('ul', { class: 'reasons' }, reasons.map((text) => h('li', {}, text)));

/** The content as the small trends are drawn; nothing before there are two points. */
export function contentPlot(leak, zone) {
  const points = leak?.plot ?? [];
  if (points.length < 2) return null;
  const buckets = points.map((point) => ({ start: point.at, count: 1, good: 1, min: point.contentM3, mean: point.contentM3, max: point.contentM3 }));
  const from = Date.parse(points[0].at);
  const to = Date.parse(points[points.length - 1].at) + PLOT_EVERY_MS;
  return sparkline({ title: 'coolant in the loop, temperatures, pumps and make-up taken out', series: { unit: 'm3', buckets }, quantity: 'volume', from, to, zone });
}
