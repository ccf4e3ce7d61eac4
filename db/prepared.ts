import { type SQL, sql } from 'drizzle-orm';
import type { SQLiteColumn } from 'drizzle-orm/sqlite-core';
import type { Query } from './database.ts';

/**
 * A read whose SQL is built once for each open database instead of at every call: building it takes
 * as long as running it.
 */
export function prepared<T extends object>(build: (query: Query) => T): (query: Query) => T {
  const built = new WeakMap<Query, T>();
  return (query) => {
    const known = built.get(query);
    if (known !== undefined) return known;
    const made = build(query);
    built.set(query, made);
    return made;
  };
}

/** The condition that a column is one of the ids to be handed in as a JSON array, named `ids`. */
export const isAmong = (column: SQLiteColumn): SQL =>
  sql`${column} IN (SELECT value FROM json_each(${sql.placeholder('ids')}))`;
