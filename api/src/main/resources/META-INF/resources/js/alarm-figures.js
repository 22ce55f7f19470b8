/** How well do the alarms serve the people they call? Figures of IEC 62682 and EEMUA 191, each beside what it should be. */

import { alarmPage } from './alarm-words.js';
import { byId, h, setText } from './dom.js';
import { age, dateAndTime, number } from './format.js';
import { get, siteZone } from './service.js';
import { Shell } from './shell.js';
import { rows } from './table.js';

const shell = new Shell();

async function refresh() {
  try {
    shell.zone ??= await siteZone();
    const from = new Date(Date.now() - Number(byId('days').value) * 86_400_000).toISOString();
    show(await get(`/api/v1/alarm-performance?from=${encodeURIComponent(from)}`));
    shell.connection({ connected: true });
  } catch (error) {
    shell.connection({ connected: false, since: Date.now(), error });
  }
}

const percent = (share) => `${number(100 * share, 1)} %`;
const seconds = (value) => (value === undefined ? 'none acknowledged yet' : age(1000 * value));

function show(f) {
  const total = Math.max(1, f.annunciated);
  const share = (priority) => (f.byPriority[priority] ?? 0) / total;
  const lines = [
    ['alarms in all', `${f.annunciated}`, '', null],
    ['mean in 10 min for one operator', number(f.perTenMinutes, 2), 'about 1, at most 2', f.perTenMinutes <= 2],
    ['most in 10 min for one operator', number(f.peakInTenMinutes, 0), 'at most 10', f.peakInTenMinutes <= 10],
    ['share of 10 min periods with more than 10', percent(f.shareOfFloodPeriods), 'below 1 %', f.shareOfFloodPeriods < 0.01],
    ['floods', `${f.floods.length}`, 'none', f.floods.length === 0],
    ['ten most frequent alarms, share of all', percent(f.shareOfFrequent), '1 % to 5 %; only with many alarms', f.annunciated < 200 ? null : f.shareOfFrequent <= 0.05],
    ['chattering alarms', `${f.chattering.length}`, 'none', f.chattering.length === 0],
    ['stale alarms, there for more than 24 h', `${f.stale.length}`, 'fewer than 5', f.stale.length < 5],
    ['low, medium, high', `${percent(share('low'))}, ${percent(share('medium'))}, ${percent(share('high'))}`, '80 %, 15 %, 5 %', f.annunciated < 20 ? null : share('high') <= 0.1],
    ['time to acknowledge, half of them', seconds(f.medianToAcknowledgeS), '', null],
    ['time to acknowledge, nine of ten', seconds(f.ninetyPercentAcknowledgedWithinS), '', null],
    ['not acknowledged so far', `${f.unanswered}`, '', null],
  ];
  const off = lines.filter(([, , , fine]) => fine === false).length;
  setText(byId('headline'), f.annunciated === 0 ? 'No alarm in this time' : off === 0 ? 'The alarms stay within what people can handle' : `${off} of ${lines.filter(([, , , fine]) => fine !== null).length} figures are not as they should be`);
  rows('figures', lines.map(([title, value, wanted, fine]) => [title, value, wanted, fine === null ? '' : h('span', { class: fine ? null : 'doubt' }, fine ? 'as it should be' : '▲ not as it should be')]));
  rows('frequent', f.frequent.map((each) => [h('a', { href: alarmPage(each.alarm) }, each.alarm), `${each.count}`, f.chattering.includes(each.alarm) ? 'chatters' : '']));
  rows('floods', f.floods.map((each) => [dateAndTime(each.from, shell.zone), dateAndTime(each.to, shell.zone), `${each.alarms}`]));
  rows('stale', f.stale.map((each) => [h('a', { href: alarmPage(each) }, each)]));
  setText(byId('operators'), `for ${f.operators === 1 ? 'one operator' : `${f.operators} operators`}`);
  byId('content').hidden = false;
}

byId('days').addEventListener('change', refresh);
refresh();
