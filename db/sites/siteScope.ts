import { eq, isNull, type SQL, sql } from 'drizzle-orm';
import type { SQLiteColumn } from 'drizzle-orm/sqlite-core';
import type { SiteKey } from '#shared/sites/site.ts';

/** What a list is of: one site, or all of them where nothing is said. */
export type SiteScope = { key: SiteKey } | undefined;
export const everySite: SiteScope = undefined;

/** The condition that a row is at the site; none for every site. */
export function atSite(column: SQLiteColumn, scope: SiteScope): SQL | undefined {
  if (scope === undefined) return undefined;
  return scope.key === null ? isNull(column) : eq(column, scope.key);
}

/** The same where a query is written out, to stand behind `AND`. */
export const andAtSite = (column: SQL, scope: SiteScope): SQL =>
  scope === undefined ? sql`` : sql`AND ${column} IS ${scope.key}`;
