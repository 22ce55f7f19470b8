/** What the fleet page works out from unit rows: who needs something, what is least, what matches, in which order. */

import { STALE_AFTER_MS, judgedCode, signalRank } from './catalogue.js';
import { hasValue } from './units.js';

/** Whether a figure has a reserve: what a function could do over what was promised, 1 being exactly the promise. */
export const isReserve = (figure) => hasValue(figure) && figure.unit === '1' && figure.key.endsWith('-reserve');

/** The function with the least reserve: { function, reserve, sentence }, or null where none has a value. */
export function least(unit) {
  let found = null;
  for (const each of unit.functions ?? []) {
    if (isReserve(each.reserve) && (found === null || each.reserve.value < found.reserve.value)) found = each;
  }
  return found;
}

const QUIET = new Set(['good', 'not-judged']);

/** A unit that was never heard is not good. */
export function signalCode(unit) {
  const code = judgedCode(unit.signal);
  return !unit.lastSampleAt && QUIET.has(code) ? 'unknown' : code;
}

export const needsAttention = (unit) => !QUIET.has(signalCode(unit));

/** Why, in words; a signal that is repeated from when it could last be judged says so. */
export const signalReason = (unit) => (unit.signal?.judged === false && needsAttention(unit) ? `${unit.signal.reason} (As last judged.)` : unit.signal?.reason ?? '');

export const ageMs = (unit, now) => (unit.lastSampleAt ? now - Date.parse(unit.lastSampleAt) : Infinity);

export const isStale = (unit, now) => ageMs(unit, now) > STALE_AFTER_MS;

const COUNTED = [['days-to-limit', 'clean', 1], ['filter-days-to-change', 'filter', 1], ['strainer-days-to-change', 'strainer', 1], ['time-to-low-level', 'coolant', 1 / 86_400]];

/** Limits further off than this are not worth a place in a dense row. */
const IN_SIGHT_DAYS = 180;

/** The limit that is reached first: { days, what }, or null where none is in sight. */
export function due(unit) {
  let found = null;
  for (const [key, what, scale] of COUNTED) {
    const figure = unit.figures?.[key];
    if (hasValue(figure) && (found === null || figure.value * scale < found.days)) found = { days: Math.max(0, figure.value * scale), what };
  }
  return found !== null && found.days <= IN_SIGHT_DAYS ? found : null;
}

const byName = new Intl.Collator('en', { numeric: true });

const reserveOf = (unit) => least(unit)?.reserve.value ?? Infinity;

// Whole per cents, so that rows do not change places for noise.
const reserveStep = (unit) => Math.round(100 * reserveOf(unit));

/** What has failed comes first, then what has another signal, then the rest. */
const group = (unit) => (signalCode(unit) === 'failure' ? 0 : needsAttention(unit) ? 1 : 2);

const ORDERS = {
  reserve: (a, b) => group(a) - group(b) || reserveStep(a) - reserveStep(b) || signalRank(signalCode(a)) - signalRank(signalCode(b)),
  signal: (a, b) => signalRank(signalCode(a)) - signalRank(signalCode(b)),
  unit: () => 0,
  due: (a, b) => (due(a)?.days ?? Infinity) - (due(b)?.days ?? Infinity) || 0,
  duty: (a, b) => dutyRatio(b) - dutyRatio(a),
  approach: (a, b) => figureOr(b, 'approach', -Infinity) - figureOr(a, 'approach', -Infinity),
  age: (a, b) => sampleTime(a) - sampleTime(b),
};

export const ORDER_KEYS = Object.keys(ORDERS);

const figureOr = (unit, key, other) => (hasValue(unit.figures?.[key]) ? unit.figures[key].value : other);
/** Duty of a unit now: from both sides while it is steady, else what the loop side says. */
export const dutyNow = (unit) => [unit.figures?.duty, unit.figures?.['tcs-duty'], unit.figures?.['fws-duty']].find(hasValue) ?? unit.figures?.duty;

const dutyRatio = (unit) => (dutyNow(unit)?.value ?? -Infinity) / (unit.ratedDutyW || 1);
// In steps of ten seconds, so that only silence orders rows.
const sampleTime = (unit) => (unit.lastSampleAt ? Math.floor(Date.parse(unit.lastSampleAt) / 10_000) : 0);

export function ordered(units, order) {
  const compare = ORDERS[order] ?? ORDERS.reserve;
  return [...units].sort((a, b) => compare(a, b) || byName.compare(a.id, b.id));
}

/** Units that match the view { q, hall, supplier, signal }; several words in q must all match. */
export function matching(units, view, now) {
  const wanted = (view.q ?? '').toLowerCase().split(/\s+/).filter(Boolean);
  return units.filter((unit) => (!view.hall || unit.hall === view.hall)
    && (!view.supplier || unit.supplier === view.supplier)
    && (!view.signal || (view.signal === 'silent' ? isStale(unit, now) : signalCode(unit) === view.signal))
    && (wanted.length === 0 || matchesWords(unit, wanted)));
}

function matchesWords(unit, wanted) {
  const text = [unit.id, unit.hall, unit.supplier, unit.model, unit.coolant, unit.signal?.reason, unit.connection?.name]
    .join(' ').toLowerCase();
  return wanted.every((word) => text.includes(word));
}

/** The figures of the headline and the strip. */
export function summary(units, now) {
  const flagged = units.filter(needsAttention);
  const fresh = units.filter((unit) => !isStale(unit, now));
  const judged = fresh.map((unit) => ({ unit, least: least(unit) })).filter((each) => each.least);
  const heat = fresh.map((unit) => ({ unit, heat: unit.functions?.find((each) => each.function === 'heat-transfer')?.reserve }))
    .filter((each) => isReserve(each.heat));
  const loaded = fresh.filter((unit) => hasValue(dutyNow(unit)));
  return {
    total: units.length,
    flagged,
    first: ordered(flagged, 'reserve')[0] ?? null,
    neverHeard: units.filter((unit) => !unit.lastSampleAt).length,
    silent: units.filter((unit) => isStale(unit, now)),
    counts: units.reduce((counts, unit) => counts.set(signalCode(unit), (counts.get(signalCode(unit)) ?? 0) + 1), new Map()),
    judgedForRated: heat.length,
    couldCarryRated: heat.filter((each) => each.heat.value >= 1).length,
    least: judged.length ? judged.reduce((a, b) => (b.least.reserve.value < a.least.reserve.value ? b : a)) : null,
    dutyW: loaded.reduce((sum, unit) => sum + dutyNow(unit).value, 0),
    dutyUnits: loaded.length,
    ratedW: loaded.reduce((sum, unit) => sum + (unit.ratedDutyW ?? 0), 0),
    oldestMs: units.reduce((oldest, unit) => Math.max(oldest, ageMs(unit, now)), 0),
  };
}

const VIEW_KEYS = ['q', 'hall', 'supplier', 'signal', 'order'];

export function viewFromAddress(search) {
  const parameters = new URLSearchParams(search);
  return Object.fromEntries(VIEW_KEYS.map((key) => [key, parameters.get(key) ?? '']));
}

export function addressOfView(view) {
  const parameters = new URLSearchParams(VIEW_KEYS.filter((key) => view[key]).map((key) => [key, view[key]]));
  const text = parameters.toString();
  return text ? `?${text}` : location.pathname;
}
