/** Requests to the service; a problem it names (RFC 9457) becomes the error's message. */

export class ServiceError extends Error {
  constructor(message, status) {
    super(message);
    this.status = status;
  }
}

export async function get(path, signal) {
  let response;
  try {
    response = await fetch(path, { headers: { Accept: 'application/json' }, cache: 'no-store', signal: signal ?? AbortSignal.timeout(10_000) });
  } catch (cause) {
    throw new ServiceError(cause.name === 'TimeoutError' ? 'The service did not answer within 10 s.' : 'The service does not answer.', 0);
  }
  if (response.ok) return response.json();
  const problem = await response.json().catch(() => ({}));
  throw new ServiceError(problem.detail ?? problem.title ?? `The service answered ${response.status}.`, response.status);
}

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
