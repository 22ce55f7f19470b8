/** Live push: keeps one web socket open, comes back by itself, and asks for a whole picture after each gap. */

import { me, signIn } from './service.js';

const FIRST_WAIT_MS = 500;
const LONGEST_WAIT_MS = 15_000;
const SILENCE_MS = 12_000;

export class Live {
  /**
   * @param subscription what to send once open: {} for the fleet, { unit } for one unit as well
   * @param snapshot fetches and applies a whole picture; a promise
   * @param message takes one pushed message
   * @param state told { connected, since, retryAt, error } whenever it changes
   */
  constructor({ subscription, snapshot, message, state }) {
    Object.assign(this, { subscription, snapshot, message, state });
    this.wait = FIRST_WAIT_MS;
    this.lostSince = null;
    addEventListener('online', () => this.hurry());
    document.addEventListener('visibilitychange', () => document.hidden || this.hurry());
    addEventListener('pagehide', () => this.rest());
    addEventListener('pageshow', (event) => event.persisted && this.hurry());
  }

  connect() {
    clearTimeout(this.timer);
    const socket = new WebSocket(`${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}/api/v1/live`);
    this.socket = socket;
    this.waiting = [];
    socket.onopen = () => {
      socket.send(JSON.stringify(this.subscription));
      this.listen(socket);
      this.catchUp(socket);
    };
    socket.onmessage = (event) => {
      this.listen(socket);
      const pushed = JSON.parse(event.data);
      if (this.waiting) this.waiting.push(pushed);
      else this.message(pushed);
    };
    socket.onclose = () => this.retry(socket, null);
    this.listen(socket);
  }

  /** What was pushed while the picture was on its way is applied after it, unless the picture is newer. */
  async catchUp(socket) {
    try {
      const at = await this.snapshot();
      if (socket !== this.socket) return;
      const pushed = this.waiting ?? [];
      this.waiting = null;
      pushed.filter((each) => !(each.at < at)).forEach((each) => this.message(each));
      this.wait = FIRST_WAIT_MS;
      this.lostSince = null;
      this.state({ connected: true });
    } catch (error) {
      this.retry(socket, error);
    }
  }

  /** Nothing was said for a while: nothing may have changed, or the line may be dead. A new socket and a whole picture tell. */
  renew(socket) {
    if (socket !== this.socket) return;
    this.socket = null;
    socket.close();
    this.connect();
  }

  listen(socket) {
    clearTimeout(this.silence);
    this.silence = setTimeout(() => this.renew(socket), SILENCE_MS);
  }

  retry(socket, error) {
    if (socket !== this.socket) return;
    this.socket = null;
    clearTimeout(this.silence);
    socket.close();
    this.lostSince ??= Date.now();
    const wait = this.wait * (0.75 + Math.random() / 2);
    this.wait = Math.min(LONGEST_WAIT_MS, this.wait * 2);
    this.timer = setTimeout(() => this.connect(), wait);
    this.state({ connected: false, since: this.lostSince, retryAt: Date.now() + wait, error });
    // A web socket does not say why it was refused: the sign-in may be over.
    me(true).then(({ role }) => role === 'anyone' && signIn(), () => {});
  }

  /** A page that is put aside keeps no connection, and a page that comes back starts afresh. */
  rest() {
    const socket = this.socket;
    this.socket = null;
    clearTimeout(this.silence);
    clearTimeout(this.timer);
    socket?.close();
  }

  hurry() {
    if (this.socket) return;
    this.wait = FIRST_WAIT_MS;
    this.connect();
  }
}
