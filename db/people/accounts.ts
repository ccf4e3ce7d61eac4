import type { InStatement } from '@libsql/client';
import { asc, eq, gt } from 'drizzle-orm';
import { DomainError } from '#shared/errors.ts';
import { type Role, roles, type SiteRole } from '#shared/roles.ts';
import type { Database, Query } from '../database.ts';
import { account, accountRole, activation } from '../schema/index.ts';
import { type SecurityEvent, securityEventStatement } from './securityEvents.ts';
import { freshStatement, nameSubject } from './throttle.ts';

export type Account = typeof account.$inferSelect & {
  /** Held at every site. */
  roles: readonly Role[];
  siteRoles: readonly SiteRole[];
};

/** Every account, closed ones too, in the order they were made. */
export async function listAccounts(query: Query): Promise<Account[]> {
  const rows = await query.select().from(account).orderBy(asc(account.createdMs), asc(account.id));
  const held = await query.select().from(accountRole);
  return rows.map((row) => ({ ...row, ...rolesOf(held, row.id) }));
}

export async function findAccount(
  query: Query,
  by: { id: string } | { userName: string },
): Promise<Account | undefined> {
  const [row] = await query
    .select()
    .from(account)
    .where('id' in by ? eq(account.id, by.id) : eq(account.userName, by.userName));
  if (row === undefined) return undefined;
  const held = await query.select().from(accountRole).where(eq(accountRole.accountId, row.id));
  return { ...row, ...rolesOf(held, row.id) };
}

/** @throws DomainError `not_found` */
export async function getAccount(query: Query, id: string): Promise<Account> {
  const found = await findAccount(query, { id });
  if (found === undefined) throw new DomainError('not_found', 'There is no such person.');
  return found;
}

export async function hasAccounts(query: Query): Promise<boolean> {
  return (await query.$count(account)) > 0;
}

/** Of what is held, what this account holds, in the order of the list of roles. */
export function rolesOf(held: readonly (typeof accountRole.$inferSelect)[], id: string) {
  const own = held.filter((row) => row.accountId === id);
  const isHeld = (role: Role) => own.some((row) => row.role === role && row.siteId === null);
  return {
    roles: roles.filter(isHeld),
    siteRoles: own.flatMap(({ siteId, role }) => (siteId === null ? [] : [{ siteId, role }])),
  };
}

type NewAccount = Pick<Account, 'id' | 'userName' | 'name' | 'roles' | 'createdMs'> & {
  siteRoles?: readonly SiteRole[] | undefined;
  passwordHash: string | null;
};

/** The very first account; two asked for at once make one. */
export async function createFirstAccount(
  database: Database,
  first: NewAccount,
  event: SecurityEvent,
): Promise<void> {
  await database.alone(async (write) => {
    if (await hasAccounts(database.query))
      throw new DomainError('conflict', 'There are accounts already: sign in instead.');
    await write([...accountStatements(first), securityEventStatement(event)]);
  });
}

/** @throws DomainError `invalid` when the user name is taken */
export async function createAccount(
  database: Database,
  person: NewAccount & { activation: { codeSha256: string; expiresMs: number } },
  event: SecurityEvent,
): Promise<void> {
  await database.alone(async (write) => {
    const { userName } = person;
    if ((await findAccount(database.query, { userName })) !== undefined)
      throw new DomainError('invalid', 'This user name is taken, perhaps by a closed account.', [
        { path: 'userName', message: 'Choose another user name: this one is taken' },
      ]);
    await write([
      ...accountStatements(person),
      activationStatement(person.id, person.activation),
      securityEventStatement(event),
    ]);
  });
}

/** The statements that make an account; the demo's are made with them too. */
export function accountStatements(person: NewAccount): InStatement[] {
  return [
    {
      sql: 'INSERT INTO account (id, user_name, name, password_hash, created_ms) VALUES (?, ?, ?, ?, ?)',
      args: [person.id, person.userName, person.name, person.passwordHash, person.createdMs],
    },
    ...person.roles.map((role) => roleStatement(person.id, role)),
    ...(person.siteRoles ?? []).map(({ role, siteId }) => roleStatement(person.id, role, siteId)),
  ];
}

const roleStatement = (id: string, role: Role, siteId: string | null = null): InStatement => ({
  sql: 'INSERT INTO account_role (account_id, role, site_id) VALUES (?, ?, ?) ON CONFLICT DO NOTHING',
  args: [id, role, siteId],
});

/** Changes name, roles, and whether the account is closed; a closed one is signed out at once. */
export async function changeAccount(
  database: Database,
  id: string,
  wanted: {
    name: string;
    roles: readonly Role[];
    siteRoles?: readonly SiteRole[] | undefined;
    disabledMs: number | null;
  },
  event: SecurityEvent,
): Promise<void> {
  await guardingTheHead(() =>
    database.write([
      ...wanted.roles.map((role) => roleStatement(id, role)),
      ...roles
        .filter((role) => !wanted.roles.includes(role))
        .map((role) => ({
          sql: 'DELETE FROM account_role WHERE account_id = ? AND role = ? AND site_id IS NULL',
          args: [id, role],
        })),
      { sql: 'DELETE FROM account_role WHERE account_id = ? AND site_id IS NOT NULL', args: [id] },
      ...(wanted.siteRoles ?? []).map(({ role, siteId }) => roleStatement(id, role, siteId)),
      {
        sql: 'UPDATE account SET name = ?, disabled_ms = ? WHERE id = ?',
        args: [wanted.name, wanted.disabledMs, id],
      },
      ...(wanted.disabledMs === null ? [] : accessEnds(id, wanted.disabledMs)),
      securityEventStatement(event),
    ]),
  );
}

const accessEnds = (id: string, atMs: number): InStatement[] => [
  { sql: 'DELETE FROM session WHERE account_id = ?', args: [id] },
  { sql: 'DELETE FROM activation WHERE account_id = ?', args: [id] },
  { sql: 'DELETE FROM known_device WHERE account_id = ?', args: [id] },
  {
    sql: 'UPDATE feed_key SET revoked_ms = ? WHERE account_id = ? AND revoked_ms IS NULL',
    args: [atMs, id],
  },
];

async function guardingTheHead(work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (error instanceof Error && error.message.includes('one head must remain'))
      throw new DomainError('conflict', 'One head brewer with a password must always remain.');
    throw error;
  }
}

type NewPassword = {
  account: Pick<Account, 'id' | 'userName'>;
  passwordHash: string;
};

/** Sets a password and ends every session but the one kept, whose tokens so far open nothing more. */
export async function setPassword(
  database: Database,
  { kept, ...set }: NewPassword & { kept: { id: string; tokenSha256: string } },
  event: SecurityEvent,
): Promise<void> {
  await database.write([
    ...passwordStatements(set, kept.id, event),
    {
      sql: `UPDATE session SET token_sha256 = ?, token_made_ms = ?, next_token_sha256 = NULL,
              next_made_ms = NULL, old_token_sha256 = NULL, old_until_ms = NULL WHERE id = ?`,
      args: [kept.tokenSha256, event.atMs, kept.id],
    },
  ]);
}

/**
 * Sets the password that a one-time code was used for, and ends every session.
 * @returns whether it did: of two uses of one code at once only the first does
 */
export async function activate(
  database: Database,
  { code, ...set }: NewPassword & { code: string },
  event: SecurityEvent,
): Promise<boolean> {
  return database.alone(async (write) => {
    if ((await accountToActivate(database.query, code, event.atMs)) === undefined) return false;
    await write(passwordStatements(set, '', event));
    return true;
  });
}

function passwordStatements(
  { account: { id, userName }, passwordHash }: NewPassword,
  keptId: string,
  event: SecurityEvent,
): InStatement[] {
  return [
    { sql: 'UPDATE account SET password_hash = ? WHERE id = ?', args: [passwordHash, id] },
    { sql: 'DELETE FROM session WHERE account_id = ? AND id <> ?', args: [id, keptId] },
    { sql: 'DELETE FROM activation WHERE account_id = ?', args: [id] },
    freshStatement(nameSubject(userName)),
    securityEventStatement(event),
  ];
}

/** Stores a hash made with today's parameters; nothing else changes. */
export async function renewPasswordHash(
  database: Database,
  id: string,
  passwordHash: string,
): Promise<void> {
  await database.write([
    { sql: 'UPDATE account SET password_hash = ? WHERE id = ?', args: [passwordHash, id] },
  ]);
}

/** A code in place of an earlier one; the password stays until the code is used. */
export async function setActivation(
  database: Database,
  { id, disabledMs }: Pick<Account, 'id' | 'disabledMs'>,
  code: { codeSha256: string; expiresMs: number },
  event: SecurityEvent,
): Promise<void> {
  if (disabledMs !== null)
    throw new DomainError('conflict', 'This account is closed: open it again first.');
  await database.write([activationStatement(id, code), securityEventStatement(event)]);
}

const activationStatement = (
  id: string,
  { codeSha256, expiresMs }: { codeSha256: string; expiresMs: number },
): InStatement => ({
  sql: `INSERT INTO activation (account_id, code_sha256, expires_ms) VALUES (?, ?, ?)
        ON CONFLICT (account_id) DO UPDATE SET code_sha256 = excluded.code_sha256, expires_ms = excluded.expires_ms`,
  args: [id, codeSha256, expiresMs],
});

/** The open account a one-time code belongs to, while it is good. */
export async function accountToActivate(
  query: Query,
  codeSha256: string,
  nowMs: number,
): Promise<Account | undefined> {
  const [row] = await query
    .select({ id: activation.accountId, expiresMs: activation.expiresMs })
    .from(activation)
    .where(eq(activation.codeSha256, codeSha256));
  if (row === undefined || row.expiresMs <= nowMs) return undefined;
  const found = await findAccount(query, { id: row.id });
  return found?.disabledMs === null ? found : undefined;
}

/** The accounts that hold a code not yet used, by id, with its end. */
export async function pendingActivations(
  query: Query,
  nowMs: number,
): Promise<Map<string, number>> {
  const rows = await query.select().from(activation).where(gt(activation.expiresMs, nowMs));
  return new Map(rows.map((row) => [row.accountId, row.expiresMs]));
}
