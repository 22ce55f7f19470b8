/** The evidence sheet of a unit or of a comparison: what is claimed, from which data, how, how sure, and with which checksums. */

import { capital, figureTitle, pointTitle, words } from './catalogue.js';
import { byId, h, setText } from './dom.js';
import { dateAndTime, estimate, number } from './format.js';
import { workTitle } from './maintenance-words.js';
import { get, siteZone } from './service.js';
import { Shell } from './shell.js';
import { showNameplate } from './unit-tables.js';
import { displayOf, hasValue, shownFigure } from './units.js';

const shell = new Shell();
const query = new URLSearchParams(location.search);
const unit = query.get('unit');
const days = query.get('days') ?? '30';

const table = (titles, lines) => h('table', {}, h('thead', {}, h('tr', {}, ...titles.map((title) => h('th', { scope: 'col' }, title)))),
  h('tbody', {}, ...lines.map((cells) => h('tr', {}, ...cells.map((cell, n) => (n === 0 ? h('th', { scope: 'row', 'data-title': titles[n] }, cell) : h('td', { 'data-title': titles[n] }, cell)))))));
const part = (title, ...content) => h('section', {}, h('h2', {}, title), ...content);
const sum = (text) => h('span', { class: 'sum' }, text);
const when = (instant) => dateAndTime(instant, shell.zone);
const count = (n) => String(n).replace(/\B(?=(\d{3})+$)/g, '\u202f');

async function ofUnit() {
  const path = `/api/v1/units/${encodeURIComponent(unit)}`;
  const [now, evidence, work, ahead] = await Promise.all([get(path), get(`${path}/evidence?days=${days}`), get(`${path}/maintenance`), get(`${path}/forecasts`)]);
  const figures = Object.values(now.figures);
  setText(byId('headline'), `Evidence sheet of ${unit}`);
  setText(byId('about'), `${now.supplier} ${now.model}, ${now.hall} hall. Made ${when(shell.now())}. Data from ${when(evidence.from)} to ${when(evidence.to)}.`);
  const plate = h('dl', { class: 'facts' });
  showNameplate(plate, now.nameplate);
  byId('sheet').replaceChildren(
    part('What is claimed', h('p', {}, now.headline), h('p', {}, now.hidden)),
    part('Figures and their uncertainty', table(['figure', 'value ± 95 %', 'standard uncertainty', 'window', 'in words'], figures.filter(hasValue).map((each) => [capital(figureTitle(each.key)), Object.values(shownFigure(each)).filter(Boolean).join(' '), standard(each),
      each.from ? `${when(each.from).slice(0, 19)} to ${when(each.to).slice(11, 19)}` : '', now.sentences?.[each.key] ?? '']))),
    part('Figures without a value', table(['figure', 'reason', 'detail'], figures.filter((each) => !hasValue(each)).map((each) => [capital(figureTitle(each.key)), words(each.reason), each.detail ?? '']))),
    part('Forecasts', ahead.length ? table(['figure', 'counted from', 'most likely', '80 %', '95 %', 'growth'], ahead.map((each) => [capital(figureTitle(each.figure)), when(each.at).slice(0, 10), inDays(each.medianDays), span(each.lower80Days, each.upper80Days), span(each.lower95Days, each.upper95Days), each.form ?? each.reason ?? '']))
      : h('p', { class: 'sub' }, 'None yet: no whole day has been measured.')),
    part('What the supplier promised', plate),
    part('Work written down', work.length ? table(['work', 'when', 'by', 'note'], work.map((each) => [`${workTitle(each)}${each.withdrawn ? ' (withdrawn)' : ''}`, when(each.from).slice(0, 16), each.by, each.note])) : h('p', { class: 'sub' }, 'None.')),
    part('Data sources', h('p', {}, `Connection ${now.connection.name}, ${now.connection.protocol}. Values are kept as the source sent them and converted when read.`),
      table(['point', 'samples', 'good', 'bad', 'hours with samples', 'SHA-256'], evidence.points.map((each) => [pointTitle(each.point), count(each.samples), count(each.good), count(each.bad), count(each.hours), sum(each.sha256)]))),
    part('Figures over the time', table(['figure', 'minutes with a value', 'minutes without', 'SHA-256'], evidence.figures.map((each) => [capital(figureTitle(each.key)), count(each.minutes), count(each.gapMinutes), sum(each.sha256)]))),
    part('Method', h('ul', {}, h('li', {}, 'UA by effectiveness and NTU from reconciled temperatures and flows; duty as the mean of both sides weighted with their uncertainties.'),
      h('li', {}, 'Reserve: what the function could do at rated conditions, with the valve open and the pumps that are needed at full speed, over the nameplate’s promise.'),
      h('li', {}, 'Forecasts: Theil–Sen line, or an asymptotic rise where Akaike’s criterion clearly prefers it; intervals from a block bootstrap.'),
      h('li', {}, 'Uncertainty: first order after JCGM 100:2008. The catalogue of indicators names equation, source and valid range of every figure.'),
      h('li', {}, `Checksums: ${evidence.checksumOf}.`))));
}

const standard = (figure) => {
  const unit_ = displayOf(undefined, figure.value, figure.unit);
  return `${number(figure.standardUncertainty * unit_.scale, 4)} ${unit_.label}`;
};
const inDays = (n) => (typeof n === 'number' ? `${number(n, 0)} days` : 'beyond two years');
const span = (low, high) => (typeof low === 'number' ? `${number(low, 0)} to ${typeof high === 'number' ? `${number(high, 0)} days` : 'beyond two years'}` : '');

async function ofCohorts() {
  const got = await get(`/api/v1/compare?${query}`);
  const look = displayOf(undefined, Math.max(0, ...got.units.map((each) => Math.abs(each.value ?? 0))), got.unit);
  const text = (value) => (value === undefined ? '–' : `${number(value * look.scale, 4)} ${look.label}`);
  setText(byId('headline'), `Evidence sheet: ${words(got.measure)} by ${words(got.by)}`);
  setText(byId('about'), `Made ${when(shell.now())}. Data from ${when(got.from)} to ${when(got.to)}.`);
  const lines = got.units.map((each) => [each.unit, each.cohort, each.value ?? '', each.standardUncertainty ?? ''].join(';'));
  byId('sheet').replaceChildren(
    part('What is claimed', h('p', {}, got.sentence), h('p', {}, `${got.words}.`)),
    part('Cohorts', table(['cohort', 'units with a value', 'mean', '95 % interval'], got.cohorts.map((each) => [each.name, `${each.unitsWithValue} of ${each.units}`, text(each.mean), each.lower95 === undefined ? '' : `${text(each.lower95)} to ${text(each.upper95)}`]))),
    part('Each against each', table(['pair', 'difference', '95 %, all pairs together', 'probability by chance', 'what it says'], got.pairs.map((each) => [`${each.first} less ${each.second}`, text(each.difference), each.lower95 === undefined ? '' : `${text(each.lower95)} to ${text(each.upper95)}`,
      each.probability === undefined ? '' : number(each.probability, 4), words(each.verdict)]))),
    part('Unit by unit', table(['unit', 'cohort', 'value ± 95 %', 'why there is none'], got.units.map((each) => [each.unit, each.cohort, each.value === undefined ? '–' : `${estimate(each.value * look.scale, each.standardUncertainty * look.scale)} ${look.label}`, each.detail ?? '']))),
    part('Method and uncertainty', h('ul', {}, ...got.method.map((line) => h('li', {}, line)))),
    part('Data sources and checksum', h('p', {}, 'Figures as they were worked out each minute and stored; the sheet of each unit names its points and connection.'),
      h('p', {}, 'SHA-256 over one line a unit, unit;cohort;value;standard uncertainty: ', sum(await sha256(`${lines.join('\n')}\n`)))));
}

/** A page that did not come over a safe line has no sums to offer. */
async function sha256(text) {
  if (!crypto.subtle) return 'not available over this connection';
  return [...new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

byId('paper').addEventListener('change', (event) => { document.body.className = event.target.value; });
document.body.className = 'a4';
byId('print').addEventListener('click', () => print());
(async () => {
  try {
    const fleet = await get('/api/v1/fleet');
    shell.heard(fleet.at);
    shell.zone = await siteZone(fleet.site);
    setText(byId('site'), fleet.site?.name);
    await (unit ? ofUnit() : ofCohorts());
  } catch (error) {
    setText(byId('headline'), error.message);
  }
})();
