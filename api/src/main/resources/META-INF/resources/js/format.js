/** Numbers, ages and times as people read them. */

import { K95 } from './catalogue.js';

const MINUS = '\u2212';

export function number(value, decimals) {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? (0).toFixed(decimals) : text.replace('-', MINUS);
}

/** Decimals that show a 95 % band with one significant digit, two when it starts with 1 or 2; between 0 and 4. */
export function decimalsFor(band) {
  if (!(band > 0)) return 2;
  const power = Math.floor(Math.log10(band));
  const digits = band / 10 ** power < 2.95 ? 1 : 0;
  return Math.min(4, Math.max(0, digits - power));
}

/** "4.03 ± 0.18" from a value and its standard uncertainty; the band is the 95 % one. */
export function estimate(value, standardUncertainty) {
  const band = K95 * standardUncertainty;
  const decimals = decimalsFor(band);
  return band > 0 ? `${number(value, decimals)} ± ${number(band, decimals)}` : number(value, decimals);
}

export function age(milliseconds) {
  const seconds = Math.max(0, milliseconds / 1000);
  if (seconds < 1.5) return '1 s';
  if (seconds < 99.5) return `${Math.round(seconds)} s`;
  if (seconds < 5_970) return `${Math.round(seconds / 60)} min`;
  if (seconds < 48 * 3600) return `${Math.round(seconds / 3600)} h`;
  return `${Math.round(seconds / 86_400)} d`;
}

const FIXED_ZONE = /^([+-])(\d\d):?(\d\d)$/;

function fixedOffset(zone) {
  if (zone === 'Z' || zone === 'UTC') return 0;
  const match = FIXED_ZONE.exec(zone);
  return match ? (match[1] === '-' ? -1 : 1) * (Number(match[2]) * 60 + Number(match[3])) : null;
}

/** Minutes east of UTC at an instant, for an offset like "+01:00" or a zone's name. */
function offsetMinutes(date, zone) {
  const fixed = fixedOffset(zone);
  if (fixed !== null) return fixed;
  const name = new Intl.DateTimeFormat('en', { timeZone: zone, timeZoneName: 'longOffset' })
    .formatToParts(date).find((part) => part.type === 'timeZoneName').value.replace('GMT', '');
  return name === '' ? 0 : fixedOffset(name);
}

const two = (n) => String(n).padStart(2, '0');

/** The site's wall clock: { date: "2026-11-25", time: "14:32:08", offset: "+01:00" }. */
export function siteTime(instant, zone) {
  const date = new Date(instant);
  const minutes = offsetMinutes(date, zone ?? 'Z');
  const local = new Date(date.getTime() + minutes * 60_000).toISOString();
  const sign = minutes < 0 ? '-' : '+';
  const offset = `${sign}${two(Math.floor(Math.abs(minutes) / 60))}:${two(Math.abs(minutes) % 60)}`;
  return { date: local.slice(0, 10), time: local.slice(11, 19), offset };
}

export function timeOfDay(instant, zone) {
  const { time, offset } = siteTime(instant, zone);
  return `${time} ${offset}`;
}

export function dateAndTime(instant, zone) {
  const { date, time, offset } = siteTime(instant, zone);
  return `${date} ${time} ${offset}`;
}

export const plural = (count, one, many) => `${count} ${count === 1 ? one : many ?? `${one}s`}`;

/** The instant that a clock on the site's wall means, from "2026-11-25T14:32"; NaN where that is no time. */
export function instantOf(local, zone) {
  const wall = Date.parse(`${local}Z`);
  if (!Number.isFinite(wall)) return NaN;
  const guess = wall - offsetMinutes(new Date(wall), zone ?? 'Z') * 60_000;
  return wall - offsetMinutes(new Date(guess), zone ?? 'Z') * 60_000;
}

/** "2026-11-25T14:32" on the site's wall. */
export function localInput(instant, zone) {
  const { date, time } = siteTime(instant, zone);
  return `${date}T${time.slice(0, 5)}`;
}
