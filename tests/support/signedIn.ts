import type { Database } from '#db/database.ts';
import { sha256 } from '#db/journal/hash.ts';
import { accountStatements, findAccount } from '#db/people/accounts.ts';
import { beginSession } from '#db/people/sessions.ts';
import { dayMs } from '#shared/durations.ts';
import type { Role } from '#shared/roles.ts';
import { nextId, storyStartMs } from './brewery.ts';

const centuryMs = 100 * 365 * dayMs;

/** No password has this hash: nobody signs in with one, and no test waits for it to be worked out. */
export const noPassword = `$argon2id$v=19$m=65536,t=3,p=1$${'A'.repeat(22)}$${'A'.repeat(43)}`;

type Given = { userName: string; roles: readonly Role[]; atMs?: number };

/** A session of a person with an account of these roles, as the cookie a browser sends. */
export async function aSession(
  database: Database,
  { userName, roles, atMs = storyStartMs }: Given,
): Promise<{ cookie: string; accountId: string; sessionId: string }> {
  const accountId = await anAccount(database, { userName, roles });
  const token = sha256(nextId()).slice(0, 43);
  const sessionId = nextId();
  await beginSession(
    database,
    {
      id: sessionId,
      tokenSha256: sha256(token),
      accountId,
      device: 'A test',
      createdMs: atMs,
      provedMs: atMs,
      lastSeenMs: atMs,
      idleMs: centuryMs,
      expiresMs: storyStartMs + centuryMs,
    },
    {
      knownDeviceSha256: null,
      event: { atMs: storyStartMs, what: 'signed in', userName, address: null },
    },
  );
  return { cookie: `barm=${token}`, accountId, sessionId };
}

/** An account; the same one when the user name is taken. */
export async function anAccount(
  database: Database,
  {
    userName,
    roles,
    passwordHash = noPassword,
  }: Pick<Given, 'userName' | 'roles'> & { passwordHash?: string },
): Promise<string> {
  const existing = await findAccount(database.query, { userName });
  if (existing !== undefined) return existing.id;
  const id = nextId();
  const name = `${userName.slice(0, 1).toUpperCase()}${userName.slice(1)}`;
  await database.write(
    accountStatements({
      id,
      userName,
      name,
      roles,
      passwordHash,
      createdMs: storyStartMs,
    }),
  );
  return id;
}
