import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { roles } from '#shared/roles.ts';

// Not projections: these hold what the journal does not, and a rebuild leaves them be.
export const account = sqliteTable('account', {
  id: text().primaryKey(),
  userName: text().notNull(),
  name: text().notNull(),
  passwordHash: text(),
  createdMs: integer().notNull(),
  disabledMs: integer(),
});

export const accountRole = sqliteTable('account_role', {
  accountId: text().notNull(),
  role: text({ enum: roles }).notNull(),
  /** Null: at every site. */
  siteId: text(),
});

export const activation = sqliteTable('activation', {
  accountId: text().primaryKey(),
  codeSha256: text('code_sha256').notNull(),
  expiresMs: integer().notNull(),
});

export const session = sqliteTable('session', {
  id: text().primaryKey(),
  tokenSha256: text('token_sha256').notNull(),
  accountId: text().notNull(),
  device: text().notNull(),
  createdMs: integer().notNull(),
  provedMs: integer().notNull(),
  lastSeenMs: integer().notNull(),
  idleMs: integer().notNull(),
  expiresMs: integer().notNull(),
  tokenMadeMs: integer().notNull(),
  nextTokenSha256: text('next_token_sha256'),
  nextMadeMs: integer(),
  oldTokenSha256: text('old_token_sha256'),
  oldUntilMs: integer(),
});

export const knownDevice = sqliteTable('known_device', {
  tokenSha256: text('token_sha256').primaryKey(),
  accountId: text().notNull(),
  createdMs: integer().notNull(),
});

export const throttle = sqliteTable('throttle', {
  subject: text().primaryKey(),
  failures: integer().notNull(),
  firstMs: integer().notNull(),
  lastMs: integer().notNull(),
});

export const deviceToken = sqliteTable('device_token', {
  id: text().primaryKey(),
  sensor: text().notNull(),
  vesselId: text(),
  secretSha256: text('secret_sha256').notNull(),
  createdBy: text().notNull(),
  createdMs: integer().notNull(),
  lastUsedMs: integer(),
  revokedMs: integer(),
  oldSecretSha256: text('old_secret_sha256'),
  oldUntilMs: integer(),
});

export const feedKey = sqliteTable('feed_key', {
  id: text().primaryKey(),
  accountId: text().notNull(),
  keySha256: text('key_sha256').notNull(),
  createdMs: integer().notNull(),
  lastUsedMs: integer(),
  revokedMs: integer(),
});

export const securityEvent = sqliteTable('security_event', {
  seq: integer().primaryKey(),
  atMs: integer().notNull(),
  what: text().notNull(),
  userName: text(),
  address: text(),
  detail: text(),
});
