/** One's own account. */

import { byId, setText } from './dom.js';
import { me, send } from './service.js';
import { Shell } from './shell.js';

new Shell();

me().then(({ name, role }) => {
  setText(byId('headline'), name ? `${name}, ${role}` : 'You are not signed in');
  byId('name').value = name ?? '';
  byId('change').hidden = !name;
}, (error) => setText(byId('headline'), error.message));

byId('change').addEventListener('submit', async (event) => {
  event.preventDefault();
  try {
    await send('PUT', '/api/v1/me/password', { oldPassword: byId('old').value, newPassword: byId('fresh').value });
    location.assign('/sign-in.html');
  } catch (error) {
    byId('trouble').hidden = false;
    setText(byId('trouble'), error.message);
  }
});
