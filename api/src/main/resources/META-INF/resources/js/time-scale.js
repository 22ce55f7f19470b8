/** Round instants along a stretch of time, in the site's zone. */

import { siteTime } from './format.js';

const MIN = 60_000;
const HOUR = 60 * MIN;
const DAY = 24 * HOUR;
const STEPS = [MIN, 2 * MIN, 5 * MIN, 10 * MIN, 15 * MIN, 30 * MIN, HOUR, 2 * HOUR, 3 * HOUR, 6 * HOUR, 12 * HOUR,
  DAY, 2 * DAY, 7 * DAY, 14 * DAY, 30.4375 * DAY, 91.3125 * DAY, 365.25 * DAY];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

function offsetMs(instant, zone) {
  const { offset } = siteTime(instant, zone);
  const [, sign, hours, minutes] = /([+-])(\d\d):(\d\d)/.exec(offset);
  return (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * MIN;
}

/** { at, text } for at most so many marks. */
export function timeMarks(from, to, zone, most) {
  const step = STEPS.find((each) => (to - from) / each <= most) ?? STEPS[STEPS.length - 1];
  if (step > 20 * DAY) return monthMarks(from, to, zone, Math.round(step / (30.4375 * DAY)));
  const shift = offsetMs(from, zone);
  const marks = [];
  for (let at = Math.ceil((from + shift) / step) * step - shift; at <= to; at += step) {
    const { date, time } = siteTime(at, zone);
    const day = `${Number(date.slice(8))} ${MONTHS[Number(date.slice(5, 7)) - 1]}`;
    marks.push({ at, text: step >= DAY || time.startsWith('00:00') ? day : time.slice(0, 5) });
  }
  return marks;
}

function monthMarks(from, to, zone, months) {
  const marks = [];
  const { date } = siteTime(from, zone);
  let month = Number(date.slice(0, 4)) * 12 + Number(date.slice(5, 7)) - 1;
  for (month = Math.ceil(month / months) * months; marks.length < 40; month += months) {
    const utc = Date.UTC(Math.floor(month / 12), month % 12, 1);
    const at = utc - offsetMs(utc, zone);
    if (at > to) break;
    if (at >= from) marks.push({ at, text: month % 12 === 0 ? String(month / 12) : MONTHS[month % 12] });
  }
  return marks;
}

/** Round values between two, at most so many. */
export function valueMarks(low, high, most) {
  const rough = (high - low) / most || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * power).find((each) => each >= rough * 0.999);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const marks = [];
  for (let n = Math.ceil(low / step - 1e-9); n * step <= high + step * 1e-9; n++) marks.push({ at: n * step, text: (n * step).toFixed(decimals).replace('-', '−') });
  return marks;
}
