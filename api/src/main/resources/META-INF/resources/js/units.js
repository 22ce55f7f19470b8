/** Units of measure a reader can choose; values arrive in the system's own units (UCUM: Cel, K, Pa, m3/s, W, 1). */

import { K95 } from './catalogue.js';
import { decimalsFor, estimate, number } from './format.js';

export const CHOICES = {
  temperature: [
    { key: 'Cel', label: '°C', scale: 1, offset: 0, decimals: 2 },
    { key: '[degF]', label: '°F', scale: 1.8, offset: 32, decimals: 1 },
  ],
  pressure: [
    { key: 'kPa', label: 'kPa', scale: 1e-3, decimals: 1 },
    { key: 'bar', label: 'bar', scale: 1e-5, decimals: 3 },
    { key: '[psi]', label: 'psi', scale: 1 / 6894.757293168, decimals: 2 },
  ],
  flow: [
    { key: 'L/s', label: 'L/s', scale: 1e3, decimals: 2 },
    { key: 'L/min', label: 'L/min', scale: 6e4, decimals: 0 },
    { key: '[gal_us]/min', label: 'US gal/min', scale: 60 / 3.785411784e-3, decimals: 1 },
  ],
};

const STORE = 'loopwarden.units';

let chosen = read();

function read() {
  try {
    return JSON.parse(localStorage.getItem(STORE)) ?? {};
  } catch {
    return {};
  }
}

export const choice = (kind) => CHOICES[kind].find((each) => each.key === chosen[kind]) ?? CHOICES[kind][0];

export function choose(kind, key) {
  chosen = { ...chosen, [kind]: key };
  try {
    localStorage.setItem(STORE, JSON.stringify(chosen));
  } catch {
    // A browser that keeps nothing still shows the choice until the page is left.
  }
}

const BY_QUANTITY = {
  temperature: () => choice('temperature'),
  'temperature-difference': () => difference(),
  'gauge-pressure': () => choice('pressure'),
  'differential-pressure': () => choice('pressure'),
  'volume-flow': () => choice('flow'),
  ratio: () => ({ label: '%', scale: 100, decimals: 1 }),
  duration: () => ({ label: 'h', scale: 1 / 3600, decimals: 1 }),
  conductivity: () => ({ label: 'µS/cm', scale: 1e4, decimals: 1 }),
  ph: () => ({ label: 'pH', scale: 1, decimals: 2 }),
  count: () => ({ label: '', scale: 1, decimals: 0 }),
};

const QUANTITY_OF_UNIT = {
  Cel: 'temperature', K: 'temperature-difference', Pa: 'differential-pressure', 'm3/s': 'volume-flow', 1: 'ratio', W: 'power',
  'W/K': 'conductance', m3: 'volume', s: 'duration', 'S/m': 'conductivity', '[pH]': 'ph',
};

function difference() {
  const fahrenheit = choice('temperature').key === '[degF]';
  return { label: fahrenheit ? '°F' : 'K', scale: fahrenheit ? 1.8 : 1, decimals: 2 };
}

function power(size) {
  return size >= 2e5 ? { label: 'MW', scale: 1e-6, decimals: 2 }
    : size >= 1e3 ? { label: 'kW', scale: 1e-3, decimals: 1 } : { label: 'W', scale: 1, decimals: 0 };
}

function conductance() {
  const fahrenheit = choice('temperature').key === '[degF]';
  return { label: fahrenheit ? 'kW/°F' : 'kW/K', scale: fahrenheit ? 1e-3 / 1.8 : 1e-3, decimals: 1 };
}

/** How values of a quantity are shown: { label, scale, offset, decimals }, for values of about this size. */
export const displayOf = (quantity, size, ucum) => displayUnit(quantityKey(quantity, ucum), size, ucum);

function displayUnit(quantity, value, ucum) {
  if (quantity === 'power') return power(Math.abs(value));
  if (quantity === 'conductance') return conductance();
  if (quantity === 'volume') return { label: 'L', scale: 1000, decimals: Math.abs(value) < 0.1 ? 1 : 0 };
  if (ucum === 'K/W') return { label: 'K/MW', scale: 1e6, decimals: 2 };
  if (ucum === 'kW.h/wk') return { label: 'kWh a week', scale: 1, decimals: 0 };
  if (ucum === 'h/wk') return { label: 'h a week', scale: 1, decimals: 1 };
  if (ucum === 'd') return { label: 'days', scale: 1, decimals: 0 };
  if (ucum === 'm2') return { label: 'm²', scale: 1, decimals: 1 };
  return BY_QUANTITY[quantity]?.() ?? { label: ucum === '1' ? '' : ucum ?? '', scale: 1, decimals: 3 };
}

const quantityKey = (quantity, ucum) => quantity?.toLowerCase().replaceAll('_', '-') ?? QUANTITY_OF_UNIT[ucum];

/** A measured value as { text, unit }. */
export function shown(value, ucum, quantity) {
  const key = quantityKey(quantity, ucum);
  if (key === 'flag') return { text: value >= 0.5 ? 'yes' : 'no', unit: '' };
  const unit = displayUnit(key, value, ucum);
  return { text: number(value * unit.scale + (unit.offset ?? 0), unit.decimals), unit: unit.label };
}

/** A figure with its 95 % band as { text, unit }; only for a figure that has a value. */
export function shownFigure(figure) {
  const unit = displayUnit(quantityKey(undefined, figure.unit), figure.value, figure.unit);
  const offset = unit.offset ?? 0;
  return { text: estimate(figure.value * unit.scale + offset, figure.standardUncertainty * unit.scale), unit: unit.label };
}

/** Duty beside rated duty, both in the unit that suits the rating. */
export function shownDuty(dutyW, ratedW) {
  const unit = power(ratedW);
  return { duty: number(dutyW * unit.scale, unit.decimals), rated: `${number(ratedW * unit.scale, unit.decimals)} ${unit.label}` };
}

/** A temperature difference without its band, for dense columns. */
export function shownDifference(kelvin) {
  const unit = difference();
  return { text: number(kelvin * unit.scale, 2), unit: unit.label };
}

/** A ratio in per cent with its band, rounded as the band deserves. */
export function shownPercent(figure) {
  return { value: number(100 * figure.value, Math.min(1, decimalsFor(100 * K95 * figure.standardUncertainty))),
    band: number(100 * K95 * figure.standardUncertainty, Math.min(1, decimalsFor(100 * K95 * figure.standardUncertainty))) };
}

export const hasValue = (figure) => figure !== undefined && figure !== null && typeof figure.value === 'number';
