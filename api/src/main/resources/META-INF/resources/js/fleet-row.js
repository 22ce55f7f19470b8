/** One row of the fleet page: built once, then updated cell by cell. */

import { h, setAttribute, setDrawing, setText } from './dom.js';
import { ageMs, due, dutyNow, isReserve, isStale, least, signalCode, signalReason } from './fleet-model.js';
import { age, number } from './format.js';
import { ReserveBar, dataMark, signalSymbol } from './symbols.js';
import { judgedCode, shareOf, signalWord, words } from './catalogue.js';
import { hasValue, shownDifference, shownDuty, shownPercent } from './units.js';

class FunctionCell {
  constructor(title) {
    this.title = title;
    this.bar = new ReserveBar();
    this.text = h('span');
    this.band = h('span', { class: 'band' });
    this.node = h('div', { role: 'gridcell', class: 'c-function' }, this.bar.node, h('span', { class: 'reserve' }, this.text, this.band));
  }

  show(judged, coloured, isLeast) {
    const figure = judged?.reserve;
    const reserve = isReserve(figure);
    this.node.classList.toggle('least', isLeast);
    this.node.classList.toggle('none', Boolean(judged) && !hasValue(figure));
    this.node.dataset.signal = coloured ?? '';
    this.bar.node.toggleAttribute('hidden', !reserve);
    setAttribute(this.node, 'title', judged?.sentence ?? figure?.detail ?? null);
    setText(this.text, text(judged, figure, reserve));
    setText(this.band, hasValue(figure) && !reserve ? ` ± ${shownPercent(figure).band} %` : '');
    setAttribute(this.node, 'aria-label', label(this.title, figure));
    if (reserve) this.bar.show(figure.value, figure.standardUncertainty);
  }
}

/** The signal of one function; where the service sends only the unit's, that of the function that decides it. */
export function functionSignal(unit, judged) {
  const signal = judged?.signal ?? (unit.signal?.function === judged?.function ? unit.signal : null);
  return signal ? judgedCode(signal) : 'good';
}

function text(judged, figure, reserve) {
  if (!judged) return '';
  if (!hasValue(figure)) return words(figure?.reason ?? 'not known');
  // Whole per cents: the column is narrow, the bar and the unit's page say the rest.
  return reserve ? `${number(100 * figure.value, 0)} %` : shownPercent(figure).value;
}

function label(title, figure) {
  if (!hasValue(figure)) return `${title}: ${words(figure?.reason ?? 'not known')}`;
  const { value, band } = shownPercent(figure);
  return `${title} ${value} % ± ${band} %${isReserve(figure) ? ` ${shareOf(figure.key)}` : ''}`;
}

export class FleetRow {
  constructor(functions) {
    this.link = h('a', { tabindex: '-1' });
    this.about = h('span', { class: 'sub' });
    this.symbol = h('span', { class: 'symbol' });
    this.word = h('span', { class: 'word' });
    this.reason = h('span', { class: 'reason' });
    this.functions = functions.map(({ key, title }) => ({ key, cell: new FunctionCell(title) }));
    this.due = h('span');
    this.dueWhat = h('span', { class: 'sub' });
    this.duty = h('span');
    this.rated = h('span', { class: 'sub' });
    this.approach = h('span');
    this.approachUnit = h('span', { class: 'sub' });
    this.ageMark = h('span', { class: 'symbol' });
    this.ageWord = h('span', { class: 'age-word' });
    this.ageText = h('span');
    this.node = h('div', { role: 'row', class: 'row', tabindex: '-1' },
      h('div', { role: 'rowheader', class: 'c-unit' }, this.link, this.about),
      h('div', { role: 'gridcell', class: 'c-signal' }, this.symbol, this.word),
      h('div', { role: 'gridcell', class: 'c-reason' }, this.reason),
      h('div', { role: 'gridcell', class: 'c-due' }, this.due, this.dueWhat),
      this.functions.map(({ cell }) => cell.node),
      h('div', { role: 'gridcell', class: 'c-duty' }, this.duty, this.rated),
      h('div', { role: 'gridcell', class: 'c-approach' }, this.approach, this.approachUnit),
      h('div', { role: 'gridcell', class: 'c-age' }, this.ageMark, this.ageWord, this.ageText));
    this.node.row = this;
  }

  show(unit, now) {
    this.id = unit.id;
    this.node.dataset.unit = unit.id;
    setText(this.link, unit.id);
    setAttribute(this.link, 'href', `/unit.html?id=${encodeURIComponent(unit.id)}`);
    setText(this.about, `${unit.supplier} ${unit.model} · ${unit.hall}`);
    this.showSignal(unit);
    this.showFunctions(unit);
    this.showFigures(unit);
    this.showAge(unit, now);
  }

  showSignal(unit) {
    const code = signalCode(unit);
    const quiet = code === 'good';
    this.node.dataset.signal = code;
    setDrawing(this.symbol, code, () => signalSymbol(code));
    setText(this.word, signalWord(code));
    this.word.classList.toggle('unseen', quiet);
    const reason = quiet || code === 'unknown' ? '' : signalReason(unit);
    setText(this.reason, reason);
    setAttribute(this.reason, 'title', reason || null);
  }

  showFunctions(unit) {
    const lowest = least(unit)?.function;
    const shownOnPhone = lowest ?? this.functions[0]?.key;
    for (const { key, cell } of this.functions) {
      const judged = unit.functions?.find((each) => each.function === key);
      cell.show(judged, functionSignal(unit, judged), key === shownOnPhone);
    }
  }

  showFigures(unit) {
    const next = due(unit);
    setText(this.due, next ? (next.days < 1 ? 'now' : `${number(next.days, 0)} d`) : '');
    setText(this.dueWhat, next ? ` ${next.what}` : '');
    const duty = dutyNow(unit);
    const approach = unit.figures?.approach;
    const dutyText = shownDuty(hasValue(duty) ? duty.value : 0, unit.ratedDutyW);
    setText(this.duty, hasValue(duty) ? dutyText.duty : '–');
    setText(this.rated, ` / ${dutyText.rated}`);
    setAttribute(this.duty, 'title', hasValue(duty) ? null : duty?.detail ?? 'not known');
    const difference = hasValue(approach) ? shownDifference(approach.value) : { text: '–', unit: '' };
    setText(this.approach, difference.text);
    setText(this.approachUnit, difference.unit && ` ${difference.unit}`);
    setAttribute(this.approach, 'title', hasValue(approach) ? null : approach?.detail ?? 'not known');
  }

  showAge(unit, now) {
    const stale = isStale(unit, now);
    this.node.classList.toggle('stale', stale);
    setDrawing(this.ageMark, stale, () => (stale ? dataMark('stale') : document.createTextNode('')));
    setText(this.ageWord, stale && unit.lastSampleAt ? 'stale ' : '');
    setText(this.ageText, unit.lastSampleAt ? age(ageMs(unit, now)) : 'never heard');
  }

  place(index, height) {
    this.node.style.transform = `translateY(${index * height}px)`;
    setAttribute(this.node, 'aria-rowindex', index + 2);
  }
}
