import type { App } from '#api/app.ts';
import type { Database } from '#db/database.ts';
import { ownOrigin } from '#tests/support/server.ts';
import { aSession } from '#tests/support/signedIn.ts';

/** Asks an app within this process as its head brewer, and reads the answer. */
export async function asHead(app: App, database: Database) {
  const { cookie } = await aSession(database, {
    userName: 'ines',
    roles: ['head'],
    atMs: Date.now(),
  });
  return async (method: string, path: string, body?: unknown) => {
    const response = await app.request(path, {
      method,
      headers: { cookie, origin: ownOrigin, 'content-type': 'application/json' },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const answer: Record<string, unknown> = await response.json();
    return { status: response.status, body: answer, ms: 0, response };
  };
}
