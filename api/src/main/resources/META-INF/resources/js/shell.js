/** What every page has: the site's clock, the state of the connection to the service, keys that work everywhere. */

import { byId, setText } from './dom.js';
import { timeOfDay } from './format.js';

export class Shell {
  constructor() {
    this.zone = null;
    this.aheadMs = 0;
    this.lost = null;
    setInterval(() => this.tick(), 1000);
  }

  /** Now by the service's clock, so that ages stay right on a machine whose clock is wrong. */
  now() {
    return Date.now() + this.aheadMs;
  }

  /** Takes the service's own time of a message; small differences are the way it took. */
  heard(at) {
    const ahead = Date.parse(at) - Date.now();
    if (Number.isFinite(ahead)) this.aheadMs = Math.abs(ahead - this.aheadMs) > 1500 ? ahead : Math.max(ahead, this.aheadMs);
  }

  connection({ connected, since, retryAt, error }) {
    this.lost = connected ? null : { since, retryAt, error };
    document.body.classList.toggle('cut-off', !connected);
    this.tick();
  }

  tick() {
    setText(byId('clock'), this.zone ? timeOfDay(this.now(), this.zone) : '');
    const banner = byId('connection');
    banner.hidden = !this.lost;
    if (!this.lost) {
      setText(banner, '');
      return;
    }
    const why = this.lost.error?.message ?? 'No connection to the service.';
    const since = timeOfDay(this.lost.since + this.aheadMs, this.zone ?? 'Z');
    setText(banner, `${why} What you see is from before ${since}. This page keeps trying.`);
  }
}
