/** Signing in, with a password or with a one-time token for choosing one. */

import { byId, setText } from './dom.js';
import { post } from './service.js';

const fragment = new URLSearchParams(location.hash.slice(1));

function withToken(token, name) {
  setText(byId('headline'), 'Choose a password');
  setText(byId('password-label'), 'New password');
  setText(byId('go'), 'Set password and sign in');
  byId('why').hidden = false;
  byId('have-token').hidden = true;
  byId('token-field').hidden = false;
  byId('token').required = true;
  byId('password').autocomplete = 'new-password';
  byId('password').minLength = 12;
  byId('token').value = token ?? '';
  if (name) byId('name').value = name;
}

/** Only ever back to a page of this service. */
function target() {
  const to = new URL(new URLSearchParams(location.search).get('to') ?? '/', location.origin);
  return to.origin === location.origin ? to.pathname + to.search + to.hash : '/';
}

async function go(event) {
  event.preventDefault();
  const name = byId('name').value;
  const password = byId('password').value;
  byId('go').disabled = true;
  try {
    await (byId('token-field').hidden
      ? post('/api/v1/sign-in', { name, password })
      : post('/api/v1/sign-in/token', { token: byId('token').value.trim(), name, password }));
    location.replace(target());
  } catch (error) {
    byId('trouble').hidden = false;
    setText(byId('trouble'), sentence(error.message));
    byId('go').disabled = false;
    byId('password').select();
  }
}

const sentence = (text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}${text.endsWith('.') ? '' : '.'}`;

if (fragment.has('token')) {
  withToken(fragment.get('token'), fragment.get('name'));
  history.replaceState(null, '', location.pathname + location.search); // A token does not stay in the address.
}
byId('have-token').addEventListener('click', () => withToken());
byId('sign-in').addEventListener('submit', go);
byId('name').focus();
