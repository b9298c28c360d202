/**
 * Asks again where an answer got lost, for openapi-fetch: createClient<paths>({ baseUrl, fetch: patient() }).
 *
 * Every calculation only reckons: the same request brings the same answer, however often it is sent. So a caller may
 * ask again after a broken connection, and after an answer that says "later" (429, 503) or that comes from a proxy
 * whose service is just starting anew (502, 504). Whatever else is answered is an answer.
 */
const LATER = new Set([429, 502, 503, 504]);
const TRIES = 6;
const LONGEST_WAIT = 30; // seconds
const LONGEST_TRY = 60; // seconds; fetch of Node 20 says nothing at all of some connections that are closed at once

const sleep = (seconds: number) => new Promise((resolve) => setTimeout(resolve, 1000 * seconds));

/** @param firstWait seconds before the second try; each wait is about twice the one before. */
export function patient(firstWait = 0.25): (request: Request) => Promise<Response> {
  return async (request) => {
    const { method, headers, signal } = request;
    const body = request.body === null ? null : await request.arrayBuffer(); // a stream could be sent only once
    const send = async () => {
      const late = new AbortController();
      const timer = setTimeout(() => late.abort(new TypeError("no answer came in time")), 1000 * LONGEST_TRY);
      try {
        return await fetch(request.url, { method, headers, body, signal: AbortSignal.any([signal, late.signal]) });
      } finally {
        clearTimeout(timer);
      }
    };
    for (let tried = 1; tried < TRIES; tried++) {
      let wait = firstWait * 2 ** (tried - 1) * (0.75 + 0.5 * Math.random()); // spreads callers out
      try {
        const response = await send();
        if (!LATER.has(response.status)) return response;
        const told = response.headers.get("retry-after") ?? ""; // a date, which some proxies write, is passed over
        if (/^\d+$/.test(told)) wait = Number(told);
        await response.body?.cancel();
      } catch (error) {
        if (!(error instanceof TypeError)) throw error; // fetch says TypeError where no answer came
      }
      await sleep(Math.min(wait, LONGEST_WAIT));
    }
    return send();
  };
}
