/** One block for each function of a unit: its reserve, the sentence, the evidence, small trends. */

import { FUNCTIONS, capital, figureTitle, pointTitle, shareOf, signalWord, words } from './catalogue.js';
import { h, setAttribute, setDrawing, setText } from './dom.js';
import { isReserve } from './fleet-model.js';
import { functionSignal } from './fleet-row.js';
import { ReserveBar, signalSymbol } from './symbols.js';
import { contentPlot, leakList, leakReasons } from './leak.js';
import { sparkline } from './sparkline.js';
import { hasValue, shownFigure, shownPercent } from './units.js';

/** As one text, without what another of them says too. */
function sentences(texts) {
  const whole = texts.filter(Boolean).map((text) => (/[.!?]$/.test(text) ? text : `${text}.`));
  return [...new Set(whole)].filter((text, n, all) => !all.some((other) => other !== text && other.includes(text.slice(0, -1)))).join(' ');
}

/** A figure's text, or the named reason why there is none. */
export function figureText(figure) {
  if (!hasValue(figure)) return words(figure?.reason ?? 'not known');
  return Object.values(shownFigure(figure)).filter(Boolean).join(' ');
}

/** The trend page with a function's figure and its first two points. */
const trendLink = (unit, figure, points) => `/trends.html?units=${encodeURIComponent(unit)}&show=${[figure, ...points.slice(0, 2)].filter(Boolean).join()}&span=7d`;

export class FunctionBlock {
  constructor(key) {
    const known = FUNCTIONS.find((each) => each.key === key);
    this.key = key;
    this.figures = known?.figures ?? [];
    this.trends = known?.trends ?? [];
    this.symbol = h('span', { class: 'symbol' });
    this.word = h('span', { class: 'signal-word sub' });
    this.value = h('b', { class: 'block-value' });
    this.bar = new ReserveBar();
    this.barHolder = h('span', { class: 'block-bar' }, this.bar.node);
    this.sentence = h('p', {});
    this.evidence = h('dl', { class: 'evidence' });
    this.reasons = h('div', {});
    this.plots = h('div', { class: 'plots' });
    this.link = h('a', { class: 'more' }, `Trend of ${known?.title ?? words(key)}`);
    const id = `function-${key}`;
    this.node = h('section', { class: 'card block', 'data-function': key, 'aria-labelledby': id },
      h('h2', { id }, this.symbol, h('span', {}, capital(known?.title ?? words(key))), this.word),
      h('div', { class: 'block-figure' }, this.value, this.barHolder), this.sentence, this.reasons, this.evidence, this.plots, this.link);
  }

  show(unit, stale) {
    const judged = unit.functions.find((each) => each.function === this.key);
    const signal = judged?.signal ?? unit.signal;
    const said = functionSignal(unit, judged);
    const flagged = said !== 'good';
    const code = flagged ? said : hasValue(judged?.reserve) && !stale ? 'good' : 'unknown';
    setDrawing(this.symbol, code, () => signalSymbol(code));
    setText(this.word, [flagged ? signalWord(code) : null, stale ? 'stale' : null].filter(Boolean).join(', '));
    this.word.dataset.signal = code;
    this.showReserve(judged?.reserve, flagged ? code : null);
    setAttribute(this.link, 'href', trendLink(unit.id, judged?.reserve?.key, this.trends));
    setText(this.sentence, sentences([judged?.sentence, flagged ? capital(signal.reason) : null, hasValue(judged?.reserve) ? null : judged?.reserve?.detail]));
    this.showEvidence(unit.figures ?? {}, judged?.reserve?.key);
    if (this.key === 'containment') this.showLeak(unit);
  }

  showLeak(unit) {
    this.leak = unit.leak ?? this.leak;
    const reasons = leakReasons(unit).filter((text) => !this.sentence.textContent.includes(text));
    setDrawing(this.reasons, reasons.join('|'), () => leakList(reasons));
  }

  showReserve(reserve, code) {
    const bar = isReserve(reserve);
    setAttribute(this.barHolder, 'data-signal', code);
    this.barHolder.hidden = !bar;
    if (bar) this.bar.show(reserve.value, reserve.standardUncertainty);
    if (!hasValue(reserve)) setText(this.value, capital(words(reserve?.reason ?? 'not known')));
    else if (bar) {
      const { value, band } = shownPercent(reserve);
      setText(this.value, `${value} ± ${band} % ${shareOf(reserve.key)}`);
    } else setText(this.value, `${capital(figureTitle(reserve.key))} ${figureText(reserve)}`);
  }

  showEvidence(figures, reserveKey) {
    const keys = this.figures.filter((key) => figures[key] && key !== reserveKey);
    setDrawing(this.evidence, keys.join(), () => {
      this.values = new Map(keys.map((key) => [key, h('dd', {})]));
      const all = document.createDocumentFragment();
      this.values.forEach((value, key) => all.append(h('div', {}, h('dt', {}, figureTitle(key)), value)));
      return all;
    });
    this.values.forEach((value, key) => {
      setText(value, figureText(figures[key]));
      value.classList.toggle('none', !hasValue(figures[key]));
      setAttribute(value, 'title', figures[key].detail ?? figures[key].sentence ?? null);
    });
  }

  /** @param trends for each point: { point, quantity, series, from, to, zone } */
  showTrends(trends) {
    const content = this.leak && contentPlot(this.leak, trends[0]?.zone);
    this.plots.replaceChildren(...(content ? [content] : []), ...trends.map((trend) => sparkline({ title: pointTitle(trend.point), ...trend })));
  }
}
