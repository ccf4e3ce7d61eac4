import { hc, type InferResponseType } from 'hono/client';
import { expect } from 'vitest';
import { type App, createApp } from '#api/app.ts';
import { hourMs } from '#shared/durations.ts';
import type { Entry } from '#shared/entries/entry.ts';
import type { Role } from '#shared/roles.ts';
import { at, freshDatabase, nextId, storyStartMs } from './brewery.ts';
import { aSession } from './signedIn.ts';

/** The page of this site, as a browser names it in each change. */
export const ownOrigin = 'http://localhost';

const client = hc<App>(ownOrigin).api;
/** What each route answers, by the names of the typed client. */
export type Client = typeof client;
/** An entry as the log answers that it holds it. */
export type Written = InferResponseType<Client['entries'][':id']['$put'], 200 | 201>;

/**
 * The interface on a fresh database, with a clock that the test sets in hours of the story. Requests
 * are those of Ines, a head brewer, from a page of the site.
 */
export async function anApi() {
  const database = await freshDatabase();
  let hours = 0;
  const app = createApp({ database, now: () => storyStartMs + hours * hourMs });
  const signIn = (userName: string, ...roles: Role[]) =>
    aSession(database, { userName, roles, atMs: storyStartMs + hours * hourMs });
  const ines = await signIn('ines', 'head');

  const request = (path: string, init: RequestInit = {}, { cookie } = ines) => {
    const headers = new Headers(init.headers);
    headers.set('cookie', cookie);
    if (!headers.has('origin')) headers.set('origin', ownOrigin);
    return app.request(path, { ...init, headers });
  };
  const send = (method: string, path: string, body?: unknown, as = ines) =>
    request(
      path,
      {
        method,
        ...(body === undefined
          ? {}
          : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
      },
      as,
    );
  const put = (entry: Entry | Record<string, unknown>, id = nextId()) =>
    send('PUT', `/api/entries/${id}`, entry);
  /** Writes an entry down at an hour of the story; what is entered late turns no clock back. */
  const write = async (happenedHours: number, entry: Record<string, unknown>): Promise<Written> => {
    hours = Math.max(hours, happenedHours);
    const response = await put({ happenedAt: at(happenedHours), by: 'Ines', ...entry });
    const body: Written = await response.json();
    expect(response.status, JSON.stringify(body)).toBe(201);
    return body;
  };
  return {
    app,
    database,
    /** Sends a request as it stands, signed in. */
    request,
    send,
    /** Signs another person in; give the answer to `send` as the last argument. */
    signIn,
    get: (path: string) => send('GET', path),
    post: (path: string, body: unknown) => send('POST', path, body),
    put,
    write,
    setHours: (now: number) => {
      hours = now;
    },
  };
}
