/** The compare page: which supplier's units foul faster, and is that more than chance? */

import { capital } from './catalogue.js';
import { byId, h, setText, svg } from './dom.js';
import { estimate, number, plural } from './format.js';
import { get, siteZone } from './service.js';
import { Shell } from './shell.js';
import { rows } from './table.js';
import { valueMarks } from './time-scale.js';
import { displayOf } from './units.js';

const VERDICTS = { different: 'they differ', 'no-difference-told': 'no difference can be told', 'not-enough-units': 'not enough units to tell' };
const PER = { 'fouling-rate': ' in 30 days', 'filter-loading': ' in 30 days', 'pump-wear': ' in 30 days' };

const shell = new Shell();
const chosen = { measure: 'fouling-rate', by: 'supplier', days: '90', ...Object.fromEntries(new URLSearchParams(location.search)) };
let asked = 0;

async function show() {
  const turn = ++asked;
  history.replaceState(null, '', `?${new URLSearchParams(chosen)}`);
  byId('sheet').href = `/evidence.html?${new URLSearchParams(chosen)}`;
  try {
    shell.zone ??= await siteZone();
    const got = await get(`/api/v1/compare?${new URLSearchParams(chosen)}`);
    if (turn !== asked) return;
    shell.connection({ connected: true });
    draw(got);
  } catch (error) {
    if (turn === asked) shell.connection({ connected: false, since: Date.now(), error });
  }
}

function draw(got) {
  const size = Math.max(0, ...got.units.map((unit) => Math.abs(unit.value ?? 0)));
  const look = displayOf(undefined, size, got.unit);
  const scaled = (value) => value * look.scale;
  const digits = digitsFor(got, look);
  const text = (value) => (value === undefined ? '' : `${number(scaled(value), digits)} ${look.label}`);
  const range = (low, high) => (low === undefined ? '' : `${number(scaled(low), digits)} to ${number(scaled(high), digits)} ${look.label}`);
  setText(byId('headline'), capital(byId('measure').selectedOptions[0].textContent) + ` by ${byId('by').selectedOptions[0].textContent}: ${got.sentence}`.replace(/\.$/, ''));
  const known = got.units.filter((unit) => unit.value !== undefined).length;
  setText(byId('about'), `${got.words}${PER[got.measure] && !got.words.includes('30 days') ? PER[got.measure] : ''}. ${known} of ${plural(got.units.length, 'unit')} have a value.`);
  rows('cohorts', got.cohorts.map((each) => [each.name, `${each.unitsWithValue} of ${each.units}`, text(each.mean), range(each.lower95, each.upper95)]));
  rows('pairs', got.pairs.map((each) => [`${each.first} less ${each.second}`, text(each.difference), range(each.lower95, each.upper95), each.probability === undefined ? '' : chance(each.probability),
    h('span', { class: each.verdict === 'different' ? 'told' : 'sub' }, VERDICTS[each.verdict])]));
  rows('units', [...got.units].sort((a, b) => (b.value ?? -Infinity) - (a.value ?? -Infinity)).map((each) => [h('a', { href: `/unit.html?id=${encodeURIComponent(each.unit)}` }, each.unit), each.cohort,
    each.value === undefined ? '–' : `${estimate(scaled(each.value), each.standardUncertainty * look.scale)} ${look.label}`, each.detail ?? '']));
  byId('method').replaceChildren(...got.method.map((line) => h('li', {}, line)));
  byId('chart').replaceChildren(...(known ? [chart(got, scaled, look)] : []));
}

/** As many decimals as tell the cohorts apart. */
function digitsFor(got, look) {
  const widths = got.cohorts.filter((each) => each.upper95 !== undefined).map((each) => (each.upper95 - each.lower95) * look.scale);
  const width = widths.length ? Math.min(...widths) : 1;
  return Math.min(4, Math.max(0, 1 - Math.floor(Math.log10(width || 1))));
}

const chance = (p) => (p < 0.001 ? 'less than 0.1 %' : `${number(100 * p, p < 0.1 ? 1 : 0)} %`);

/** Every unit a ring, the mean of its cohort and its interval below. */
function chart(got, scaled, look) {
  const width = 900;
  const left = 150;
  const values = [...got.units.flatMap((unit) => (unit.value === undefined ? [] : [unit.value])), ...got.cohorts.flatMap((each) => (each.lower95 === undefined ? [] : [each.lower95, each.upper95]))].map(scaled);
  const low = Math.min(...values, ...(got.measure === 'availability' ? [] : [0]));
  const high = Math.max(...values);
  const spread = (high - low) * 1.06 || 1;
  const x = (value) => left + (width - left - 20) * (value - low + spread * 0.02) / spread;
  const height = got.cohorts.length * 46 + 26;
  return svg('svg', { viewBox: `0 0 ${width} ${height}`, role: 'img', 'aria-label': 'Units as rings, mean and 95 % interval of each cohort; the numbers are in the table below' },
    valueMarks(low, high, 6).map(({ at, text }) => svg('g', {}, svg('path', { class: 'axis', d: `M${x(at).toFixed(1)} 0V${height - 22}` }), svg('text', { class: 'mark-text', x: x(at).toFixed(1), y: height - 6, 'text-anchor': 'middle' }, `${text} ${look.label}`))),
    got.cohorts.map((cohort, n) => {
      const y = n * 46 + 18;
      const ours = got.units.filter((unit) => unit.cohort === cohort.name && unit.value !== undefined);
      return svg('g', {}, svg('text', { x: 0, y: y + 6 }, cohort.name), ours.map((unit) => svg('circle', { class: 'dot', cx: x(scaled(unit.value)).toFixed(1), cy: y - 4, r: 4.5 }, svg('title', {}, unit.unit))),
        cohort.lower95 === undefined ? null : svg('path', { class: 'interval', d: `M${x(scaled(cohort.lower95)).toFixed(1)} ${y + 13}H${x(scaled(cohort.upper95)).toFixed(1)}` }),
        cohort.mean === undefined ? null : svg('circle', { class: 'mean', cx: x(scaled(cohort.mean)).toFixed(1), cy: y + 13, r: 4 }));
    }));
}

for (const id of ['measure', 'by', 'days']) {
  byId(id).value = chosen[id];
  byId(id).addEventListener('change', (event) => {
    chosen[id] = event.target.value;
    show();
  });
}
show();
