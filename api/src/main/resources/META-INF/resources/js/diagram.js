/** The hydraulic diagram of a unit, drawn from the counts of its nameplate, with values where they are measured. */

import { STALE_AFTER_MS } from './catalogue.js';
import { setAttribute, setDrawing, setText, svg } from './dom.js';
import { age } from './format.js';
import { narrowLayout, wideLayout } from './diagram-layout.js';
import { dataMark } from './symbols.js';
import { shown } from './units.js';

/** What to think of a point's value: { kind, word } where there is something to say, else null. */
export function doubt(point, now) {
  if (point.value === null || point.value === undefined) return { kind: 'missing', word: 'not received' };
  if (point.quality === 'bad') return { kind: 'bad', word: 'bad' };
  const old = now - Date.parse(point.measuredAt);
  if (!(old <= STALE_AFTER_MS)) return { kind: 'stale', word: `stale ${age(old)}` };
  return point.quality === 'uncertain' ? { kind: 'uncertain', word: 'uncertain' } : null;
}

/** A value where it is measured: the instrument's circle, a title, the value, and what to think of it. */
class Tag {
  constructor({ point, x, y, title, anchor, letters, at }) {
    this.point = point;
    this.value = svg('tspan', { class: 'tag-value' });
    this.unit = svg('tspan', { class: 'tag-unit' });
    this.holder = svg('g', { transform: `translate(${anchor === 'end' ? x - 12 : x},${y + 21})` });
    this.word = svg('text', { class: 'tag-doubt', x: anchor === 'end' ? x - 15 : x + 15, y: y + 31, 'text-anchor': anchor });
    this.node = svg('g', { class: 'tag', 'data-point': point }, bubble(at, letters),
      svg('text', { class: 'tag-title', x, y, 'text-anchor': anchor }, title),
      svg('text', { x, y: y + 16, 'text-anchor': anchor }, this.value, this.unit), this.holder, this.word);
  }

  show(point, now) {
    const reason = doubt(point, now);
    showValue(this, point, reason);
    setDrawing(this.holder, reason?.kind ?? '', () => (reason ? dataMark(reason.kind) : document.createTextNode('')));
    setText(this.word, reason?.word);
  }
}

/** A value beside a pump, filter or exchanger, where there is no room for more than a word of doubt. */
class SmallTag {
  constructor({ point, x, y, doubt: place, anchor }) {
    this.point = point;
    this.value = svg('tspan', { class: 'tag-value' });
    this.unit = svg('tspan', { class: 'tag-unit' });
    this.word = svg('tspan', { class: 'tag-doubt', ...(place === 'below' ? { x, dy: 13 } : {}) });
    this.gap = place === 'below' ? '' : ' ';
    this.node = svg('g', { class: 'tag small', 'data-point': point }, svg('text', { x, y, 'text-anchor': anchor }, this.value, this.unit, this.word));
  }

  show(point, now) {
    const reason = doubt(point, now);
    showValue(this, point, reason);
    setText(this.word, reason && this.gap + (reason.kind === 'missing' ? 'none yet' : reason.kind));
  }
}

function showValue(tag, point, reason) {
  const { text, unit } = reason?.kind === 'missing' ? { text: '–', unit: '' } : shown(point.value, point.unit, point.quantity);
  setText(tag.value, text);
  setText(tag.unit, unit && ` ${unit}`);
  setAttribute(tag.node, 'data-doubt', reason?.kind ?? null);
}

/** An instrument after ISA-5.1: a circle with its function letters, a thin line to where it measures. */
function bubble([bx, by, px, py], letters) {
  return svg('g', { class: 'bubble' }, svg('path', { d: `M${px} ${py}L${bx} ${by}` }), svg('circle', { cx: bx, cy: by, r: 11 }),
    svg('text', { x: bx, y: by + 3.2, 'text-anchor': 'middle' }, letters));
}

const SYMBOLS = {
  exchanger: ({ w, h: high }) => [svg('rect', { x: -w / 2, y: -high / 2, width: w, height: high }),
    svg('path', { class: 'thin', d: Array.from({ length: 9 }, (_, n) => `M${(w * (n + 1) / 10 - w / 2).toFixed(1)} ${-high / 2}v${high}`).join('') })],
  pump: ({ direction }) => [svg('circle', { r: 17 }), svg('path', { class: 'flow', d: direction === 'down' ? 'M-14 -9L0 17 14 -9' : 'M-9 -14L17 0-9 14' })],
  filter: ({ turned }) => [svg('rect', { x: turned ? -12 : -22, y: turned ? -22 : -12, width: turned ? 24 : 44, height: turned ? 44 : 24 }),
    svg('path', { class: 'dashed', d: turned ? 'M-12 -22L12 22' : 'M-22 12L22 -12' })],
  valve: () => [svg('path', { d: 'M-15 -10L15 10V-10L-15 10Z' }), svg('path', { d: 'M0 0V-17' }), svg('path', { d: 'M-10 -17a10 9 0 0 1 20 0z' })],
  valveTurned: () => [svg('path', { d: 'M-10 -15L10 15H-10L10 -15Z' }), svg('path', { d: 'M0 0H17' }), svg('path', { d: 'M17 -10a9 10 0 0 1 0 20z' })],
  reservoir: () => [svg('rect', { x: -24, y: -36, width: 48, height: 66, rx: 7 }), svg('rect', { class: 'level', x: -23, width: 46, y: 29, height: 0 })],
  tray: ({ w }) => [svg('path', { d: `M${-w / 2} -7v10h${w}v-10` })],
};

export class Diagram {
  constructor(nameplate, points, narrow) {
    const layout = (narrow ? narrowLayout : wideLayout)(nameplate, new Set(points.map((point) => point.point)));
    this.tags = layout.tags.map((tag) => (tag.small ? new SmallTag(tag) : new Tag(tag)));
    this.symbols = new Map(layout.symbols.map((symbol) => [symbol.id, this.symbol(symbol)]));
    this.notes = new Map(layout.notes.map((note) => [note.id, svg('text', { class: 'note', x: note.x, y: note.y, 'text-anchor': note.anchor ?? 'middle' }, note.text ?? '')]));
    this.node = svg('svg', { class: 'diagram', viewBox: `0 0 ${layout.width} ${layout.height}`, role: 'group', 'aria-label': 'Hydraulic diagram with live values' },
      layout.lines.map((d) => svg('path', { class: 'thin-line', d })),
      layout.pipes.map(({ side, d }) => svg('path', { class: `pipe ${side}`, d })),
      layout.arrows.map(({ side, x, y, turn }) => svg('path', { class: `arrow ${side}`, d: 'M-6 -5L6 0-6 5Z', transform: `translate(${x},${y}) rotate(${turn})` })),
      [...this.symbols.values()], [...this.notes.values()],
      layout.words.map(({ x, y, text, side, anchor }) => svg('text', { class: `end ${side}`, x, y, 'text-anchor': anchor ?? 'start' }, text)),
      this.tags.map((tag) => tag.node));
  }

  symbol({ id, kind, x, y, ...shape }) {
    const node = svg('g', { class: `equipment ${kind}`, 'data-equipment': id, transform: `translate(${x},${y})` }, SYMBOLS[kind](shape));
    return node;
  }

  show(unit, now) {
    const byName = new Map((unit.points ?? []).map((point) => [point.point, point]));
    for (const tag of this.tags) {
      const point = byName.get(tag.point);
      if (point) tag.show(point, now);
    }
    this.showPumps(byName, now, unit.nameplate);
    this.showLevel(byName.get('reservoir.level'));
    this.showTray(byName.get('tray.wet'), now);
  }

  showPumps(points, now, nameplate) {
    for (let n = 1; n <= (nameplate?.pumps ?? 0); n++) {
      const running = points.get(`pump.${n}.running`);
      const speed = points.get(`pump.${n}.speed`);
      const known = running ?? speed;
      const trusted = known && !['missing', 'bad'].includes(doubt(known, now)?.kind);
      const on = trusted && (running ? running.value >= 0.5 : speed.value > 0.02);
      this.symbols.get(`pump.${n}`)?.classList.toggle('off', Boolean(trusted && !on));
      const note = this.notes.get(`pump.${n}`);
      if (note) setText(note, `pump ${n}${trusted ? (on ? '' : ' · off') : known ? ' · not known' : ''}`);
    }
  }

  showLevel(level) {
    const fill = this.symbols.get('reservoir')?.querySelector('.level');
    if (!fill || typeof level?.value !== 'number') return;
    const height = 64 * Math.min(1, Math.max(0, level.value));
    setAttribute(fill, 'y', (29 - height).toFixed(1));
    setAttribute(fill, 'height', height.toFixed(1));
  }

  showTray(point, now) {
    const note = this.notes.get('tray');
    if (!note || !point) return;
    const reason = doubt(point, now);
    setText(note, reason ? `drip tray · ${reason.word}` : point.value >= 0.5 ? 'drip tray · WET' : 'drip tray · dry');
    note.classList.toggle('wet', !reason && point.value >= 0.5);
  }
}
