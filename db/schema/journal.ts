import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core';

export const journal = sqliteTable('journal', {
  seq: integer().primaryKey(),
  id: text().notNull(),
  kind: text().notNull(),
  recordId: text().notNull(),
  supersedes: text(),
  reason: text(),
  byName: text().notNull(),
  actor: text().notNull(),
  via: text({ enum: ['web', 'device', 'import', 'system'] }).notNull(),
  happenedAt: text().notNull(),
  happenedMs: integer().notNull(),
  receivedMs: integer().notNull(),
  requestSha256: text('request_sha256').notNull(),
  body: text().notNull(),
  warnings: text({ mode: 'json' }).$type<readonly string[]>().notNull(),
  prevHash: text().notNull(),
  hash: text().notNull(),
  /** By how much the device's clock ran ahead of the log's as it sent; null where not told. */
  clockFastMs: integer(),
});

/** What every projection row carries: the record, the entry in force, and when it happened. */
export const provenance = {
  id: text().primaryKey(),
  entryId: text().notNull(),
  seq: integer().notNull(),
  happenedMs: integer().notNull(),
};
