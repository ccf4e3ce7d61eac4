import { createApp } from '#api/app.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { freshDatabase, nextId, storyStartMs } from './brewery.ts';

/** The interface on a fresh database, with a clock that the test sets in hours of the story. */
export async function anApi() {
  const database = await freshDatabase();
  let hours = 0;
  const app = createApp({ database, now: () => storyStartMs + hours * 3_600_000 });
  const send = (method: string, path: string, body?: unknown) =>
    app.request(path, {
      method,
      ...(body === undefined
        ? {}
        : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
    });
  return {
    app,
    database,
    send,
    get: (path: string) => send('GET', path),
    post: (path: string, body: unknown) => send('POST', path, body),
    put: (entry: Entry | Record<string, unknown>, id = nextId()) =>
      send('PUT', `/api/entries/${id}`, entry),
    setHours: (now: number) => {
      hours = now;
    },
  };
}
