/** Words for the maintenance log. */

import { pointTitle } from './catalogue.js';

export const KINDS = [
  ['cleaning', 'Cleaning'], ['filter-change', 'Filter changed'], ['top-up', 'Coolant topped up'], ['drain', 'Coolant drained'], ['calibration', 'Calibration'],
  ['part-replaced', 'Part replaced'], ['reading', 'Reading by hand'], ['out-of-use', 'Out of use'], ['confirmation', 'Looked at and confirmed'],
];

export const kindTitle = (kind) => (kind === 'withdrawal' ? 'Withdrawal' : KINDS.find(([key]) => key === kind)?.[1] ?? kind);

export const partTitle = (part) => ({ exchanger: 'all exchangers', 'fws.strainer': 'facility strainer', 'tcs.filter': 'all filters', pump: 'all pumps' })[part]
  ?? pointTitle(part).replace(/^filter (\d+)$/, 'filter $1');

/** "Cleaning, exchanger 1" */
export const workTitle = (entry) => [kindTitle(entry.kind), entry.part ? partTitle(entry.part) : null, entry.amount ? `${entry.amount.value} ${entry.amount.unit}` : null].filter(Boolean).join(', ');
