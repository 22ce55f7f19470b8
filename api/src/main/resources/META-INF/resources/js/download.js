/** Hands a text to the reader as a file. */

import { h } from './dom.js';

export function download(name, type, text) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = h('a', { href: address, download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
