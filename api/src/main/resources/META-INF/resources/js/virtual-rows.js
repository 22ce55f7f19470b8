/** Keeps only the rows on screen in the page, whatever the length of the list; the page itself is what scrolls. */

const SPARE = 6;

export class VirtualRows {
  /** @param body the element that stands for all rows; @param probe an element as high as a row */
  constructor(body, probe, createRow) {
    Object.assign(this, { body, probe, createRow });
    this.items = [];
    this.rows = new Map();
    this.pool = [];
    this.current = null;
    addEventListener('scroll', () => this.request(), { passive: true });
    addEventListener('resize', () => this.request(true));
    body.addEventListener('focusin', (event) => this.take(event.target.closest('[role=row]')?.row?.id));
    body.addEventListener('keydown', (event) => this.key(event));
  }

  /** Shows these items, each with an id, in this order; now is what ages are counted to. */
  show(items, now) {
    this.items = items;
    this.now = now;
    this.index = new Map(items.map((item, at) => [item.id, at]));
    if (!this.index.has(this.current)) this.current = items[0]?.id ?? null;
    this.request(true);
  }

  request(all = false) {
    this.all ||= all;
    this.frame ??= requestAnimationFrame(() => {
      this.frame = null;
      this.draw(this.all);
      this.all = false;
    });
  }

  draw(all) {
    const height = this.probe.offsetHeight;
    const size = `${this.items.length * height}px`;
    if (this.body.style.height !== size) this.body.style.height = size;
    const top = -this.body.getBoundingClientRect().top;
    const from = Math.max(0, Math.floor(top / height) - SPARE);
    const to = Math.min(this.items.length, Math.ceil((top + innerHeight) / height) + SPARE);
    const wanted = new Map(this.items.slice(from, to).map((item, n) => [item.id, from + n]));
    this.keepCurrent(wanted);
    for (const [id, row] of this.rows) {
      if (!wanted.has(id)) this.release(id, row);
    }
    for (const [id, at] of wanted) this.drawRow(id, at, height, all);
  }

  /** The row that has the focus stays, wherever the page was scrolled to. */
  keepCurrent(wanted) {
    if (this.current !== null && this.rows.get(this.current)?.node.contains(document.activeElement)) {
      wanted.set(this.current, this.index.get(this.current));
    }
  }

  drawRow(id, at, height, all) {
    let row = this.rows.get(id);
    const fresh = !row;
    if (fresh) {
      row = this.pool.pop() ?? this.createRow();
      this.rows.set(id, row);
      this.body.append(row.node);
    }
    if (fresh || all) row.show(this.items[at], this.now);
    row.place(at, height);
    row.node.tabIndex = id === this.current ? 0 : -1;
  }

  release(id, row) {
    this.rows.delete(id);
    row.node.remove();
    if (this.pool.length < 80) this.pool.push(row);
  }

  /** Forgets rows that were built for other columns. */
  reset() {
    for (const row of this.rows.values()) row.node.remove();
    this.rows.clear();
    this.pool = [];
    this.request(true);
  }

  take(id) {
    if (id === undefined || id === this.current) return;
    const before = this.rows.get(this.current);
    if (before) before.node.tabIndex = -1;
    this.current = id;
    const row = this.rows.get(id);
    if (row) row.node.tabIndex = 0;
  }

  key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const at = this.index.get(this.current) ?? 0;
    const page = Math.max(1, Math.floor(innerHeight / this.probe.offsetHeight) - 3);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, PageDown: at + page, PageUp: at - page, Home: 0, End: this.items.length - 1 }[event.key];
    if (to !== undefined) {
      event.preventDefault();
      this.focus(to);
    } else if (event.key === 'Enter' && event.target.getAttribute('role') === 'row') {
      event.target.row.link.click();
    }
  }

  focus(at) {
    const to = Math.min(this.items.length - 1, Math.max(0, at));
    if (to < 0) return;
    this.current = this.items[to].id;
    this.reveal(to);
    this.draw(false);
    this.rows.get(this.current).node.focus({ preventScroll: true });
  }

  reveal(at) {
    const height = this.probe.offsetHeight;
    const top = this.body.getBoundingClientRect().top + at * height;
    const head = this.body.previousElementSibling?.offsetHeight ?? 0;
    if (top < head + 4) scrollBy(0, top - head - 4);
    else if (top + height > innerHeight - 4) scrollBy(0, top + height - innerHeight + 4);
  }
}
