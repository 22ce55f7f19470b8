/** Requests to the service; a problem it names (RFC 9457) becomes the error's message. */

export class ServiceError extends Error {
  constructor(message, status) {
    super(message);
    this.status = status;
  }
}

async function ask(path, options) {
  let response;
  try {
    response = await fetch(path, { cache: 'no-store', signal: AbortSignal.timeout(10_000), ...options, headers: { Accept: 'application/json', ...options?.headers } });
  } catch (cause) {
    throw new ServiceError(cause.name === 'TimeoutError' ? 'The service did not answer within 10 s.' : 'The service does not answer.', 0);
  }
  if (response.ok) return response.status === 204 ? null : response.json();
  const problem = await response.json().catch(() => ({}));
  throw new ServiceError(problem.detail ?? problem.title ?? `The service answered ${response.status}.`, response.status);
}

/** Whoever has to sign in first does so and comes back to this page. */
export function signIn() {
  location.assign(`/sign-in.html?to=${encodeURIComponent(location.pathname + location.search + location.hash)}`);
}

async function askSignedIn(path, options) {
  try {
    return await ask(path, options);
  } catch (error) {
    if (error.status === 401) signIn();
    throw error;
  }
}

export const get = (path, signal) => askSignedIn(path, signal ? { signal } : undefined);

let known = null;

/** Who looks at the page: { name, role, csrf }; without a name nobody signed in. */
export function me(afresh) {
  if (afresh || !known) {
    known = ask('/api/v1/me');
    known.catch(() => (known = null));
  }
  return known;
}

/** Sends a change ('POST', 'PUT', 'DELETE'); the token that belongs to it is found, and found anew after a restart of the service. */
export async function send(method, path, body) {
  const attempt = async () => askSignedIn(path, {
    method,
    headers: { 'X-CSRF-Token': (await me()).csrf, ...(body === undefined ? {} : { 'Content-Type': 'application/json' }) },
    body: body === undefined ? undefined : JSON.stringify(body),
  });
  const before = (await me()).csrf;
  try {
    return await attempt();
  } catch (error) {
    if (error.status !== 403 || (await me(true)).csrf === before) throw error;
    return attempt();
  }
}

/** For the sign-in page: a refusal stays on the page. */
export const post = (path, body) => ask(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });

const ZONE = 'loopwarden.zone';

/** The site's zone, once known kept for the visit, so that the other pages need not ask for the fleet. */
export async function siteZone(site) {
  if (site?.zone) {
    try {
      sessionStorage.setItem(ZONE, site.zone);
    } catch {
      // Kept only to save a request.
    }
    return site.zone;
  }
  const kept = (() => { try { return sessionStorage.getItem(ZONE); } catch { return null; } })();
  return kept ?? siteZone((await get('/api/v1/fleet')).site ?? { zone: 'Z' });
}
