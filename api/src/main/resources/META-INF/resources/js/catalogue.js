/** Words and order of what the service sends by key: signals, functions, figures, points. */

/** A value older than this looks stale on every page (ms). */
export const STALE_AFTER_MS = 15_000;

/** Coverage factor for 95 % under a normal distribution (JCGM 100:2008, table G.1). */
export const K95 = 1.959963984540054;

/** The status signals of NAMUR NE 107, most urgent first, and what is not known. */
export const SIGNALS = [
  { code: 'failure', word: 'failure' },
  { code: 'function-check', word: 'function check' },
  { code: 'out-of-specification', word: 'out of specification' },
  { code: 'maintenance-required', word: 'maintenance required' },
  { code: 'not-judged', word: 'not judged now' },
  { code: 'good', word: 'good' },
];

/** What a signal says; a good one that could not be judged is never shown as good. */
export const judgedCode = (signal) => (!signal ? 'unknown' : signal.judged === false && signal.code === 'good' ? 'not-judged' : signal.code);

export const signalWord = (code) => SIGNALS.find((signal) => signal.code === code)?.word ?? 'not known';

export function signalRank(code) {
  const rank = SIGNALS.findIndex((signal) => signal.code === code);
  return rank < 0 ? 0 : rank;
}

/** Functions of a unit in the order of their columns; a page shows those that the data contain. */
export const FUNCTIONS = [
  { key: 'heat-transfer', title: 'heat transfer', figures: ['days-to-limit', 'fouling-resistance', 'approach-at-rated-duty', 'duty-at-rated-approach', 'ua', 'approach', 'duty', 'cleaning-interval'], trends: ['fws.valve.position', 'tcs.supply.temperature'] },
  { key: 'filtration', title: 'filtration', figures: ['filter-days-to-change', 'filter-dp-at-rated-flow', 'filter-loading', 'strainer-days-to-change', 'strainer-loading'], trends: ['tcs.filter.1.dp', 'tcs.filter.2.dp', 'tcs.filter.3.dp', 'tcs.filter.4.dp'] },
  { key: 'pumping', title: 'pumping', figures: ['pump-head-loss', 'pump-efficiency-change', 'pump-alone-flow', 'pump-efficiency', 'internal-loss-at-rated-flow', 'rack-resistance', 'rack-resistance-change'], trends: ['pump.1.speed', 'pump.2.speed', 'tcs.dp'] },
  { key: 'containment', title: 'containment', figures: ['coolant-lost', 'time-to-low-level', 'coolant-content'], trends: ['reservoir.level'] },
  { key: 'control', title: 'control', figures: ['loop-dp-error', 'approach-error', 'valve-authority', 'hunting-amplitude', 'hunting-period'], trends: ['fws.valve.position', 'tcs.dp'] },
  { key: 'instruments', title: 'instruments', figures: ['tcs-duty', 'fws-duty', 'heat-balance-closure', 'sensor-agreement'], trends: ['tcs.flow', 'fws.flow'] },
  { key: 'coolant', title: 'coolant', figures: ['coolant-conductivity', 'coolant-ph', 'coolant-concentration', 'reservoir-level'], trends: ['coolant.conductivity', 'coolant.ph'] },
];

export function functionsIn(units) {
  const present = new Set(units.flatMap((unit) => (unit.functions ?? []).map((each) => each.function)));
  const known = FUNCTIONS.filter((each) => present.has(each.key));
  const others = [...present].filter((key) => !FUNCTIONS.some((each) => each.key === key)).sort();
  return [...known, ...others.map((key) => ({ key, title: words(key), figures: [], trends: [] }))];
}

const FIGURES = {
  approach: 'approach',
  duty: 'duty',
  'tcs-duty': 'duty, loop side',
  'fws-duty': 'duty, facility side',
  'heat-balance-closure': 'heat balance closure',
  ua: 'UA',
  'approach-at-rated-duty': 'approach at rated duty, valve fully open',
  'duty-at-rated-approach': 'largest duty at rated approach',
  'heat-transfer-reserve': 'reserve of heat transfer',
  'filter-dp-at-rated-flow': 'Δp of the most loaded filter, at rated flow',
  'filtration-reserve': 'reserve of filtration',
  'pump-efficiency': 'efficiency, mains to water',
  'pump-alone-flow': 'flow at full speed, loop as it is',
  'internal-loss-at-rated-flow': 'loss inside the unit, at rated flow',
  'rack-resistance': 'resistance of the racks, of promised',
  'pumping-reserve': 'reserve of pumping',
  'filter-loading': 'resistance of the most loaded filter, of clean',
  'filter-days-to-change': 'days until the next filter is due',
  'strainer-loading': 'resistance of the strainer, of clean',
  'strainer-days-to-change': 'days until the strainer is due',
  'pump-head-loss': 'head lost since commissioning',
  'pump-efficiency-change': 'change of efficiency since commissioning',
  'rack-resistance-change': 'change of the racks’ resistance at equal load',
  'valve-authority': 'authority of the facility valve',
  'hunting-amplitude': 'amplitude of hunting',
  'hunting-period': 'period of hunting',
  'coolant-conductivity': 'conductivity',
  'coolant-ph': 'pH',
  'coolant-concentration': 'glycol, by mass',
  'reservoir-level': 'level of the reservoir',
  'loop-dp-error': 'loop Δp beside its set point',
  'approach-error': 'approach beside its set point',
  'control-reserve': 'reserve of control',
  'approach-at-design-temperature': 'approach at rated duty and design temperature',
  'days-to-limit': 'days until the exchangers are due',
  cleanliness: 'UA of clean UA',
  'cleaning-recovered': 'brought back by the last cleaning',
  'cleaning-interval': 'cheapest time between cleanings',
  'exchanger-tcs-dp-growth': 'rise of the exchangers’ Δp, loop side',
  'exchanger-fws-dp-growth': 'rise of the exchangers’ Δp, facility side',
  'fouling-pumping-energy': 'pumping energy that fouling costs',
  'fouling-lost-free-cooling': 'hours of free cooling lost to fouling',
  'leak-suspicion': 'suspicion of a leak',
  'unexplained-loss': 'loss that nothing explains',
  'coolant-lost': 'coolant lost so far',
  'time-to-low-level': 'time until the level is low',
  'coolant-content': 'coolant in the loop',
  'smallest-visible-loss': 'smallest loss that would show',
  'sensor-agreement': 'agreement of the sensors',
};

/** What a reserve is a share of. */
export const shareOf = (key) => (key === 'control-reserve' ? 'of what is asked now' : 'of what was promised');

export const figureTitle = (key) => FIGURES[key] ?? words(key);

const POINT_GROUPS = [
  ['fws.', 'facility water (FWS)'],
  ['tcs.filter', 'filters'],
  ['tcs.', 'racks loop (TCS)'],
  ['approach.', 'control'],
  ['exchanger.', 'exchangers'],
  ['pump.', 'pumps'],
  ['reservoir.', 'reservoir and leak detection'],
  ['makeup.', 'reservoir and leak detection'],
  ['tray.', 'reservoir and leak detection'],
  ['rope.', 'reservoir and leak detection'],
  ['coolant.', 'coolant'],
  ['controller.', 'control'],
];

const POINT_WORDS = {
  dp: 'Δp', fws: 'facility', tcs: 'loop', 'run-time': 'running time', ph: 'pH', tray: 'drip tray', rope: 'leak rope',
  redundant: '(second sensor)',
};

export const pointGroup = (point) => POINT_GROUPS.find(([start]) => point.startsWith(start))?.[1] ?? 'other';

export const POINT_GROUP_ORDER = [...new Set(POINT_GROUPS.map(([, title]) => title)), 'other'];

export function pointTitle(point) {
  const inside = point.startsWith('tcs.filter.') ? point.slice(4) : point;
  return inside.split('.').map((part) => POINT_WORDS[part] ?? words(part)).filter(Boolean).join(' ');
}

export const capital = (text) => (text ? text[0].toUpperCase() + text.slice(1) : '');

/** A key in words: not-observable becomes "not observable". */
export const words = (key) => String(key ?? '').toLowerCase().replaceAll(/[-_]/g, ' ');
