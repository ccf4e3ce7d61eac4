import { sql } from 'drizzle-orm';
import type { Query } from '../database.ts';

export type ImportRun = {
  id: string;
  at: string;
  /** The person’s name; their user name where there is no such account. */
  by: string;
  entries: number;
  /** How many of its records stand; none once it is undone. */
  standing: number;
};

// Written as in the index, or the index is not used.
const importId = sql`json_extract(body, '$.importId')`;

const standingRecord = sql`(
  SELECT latest.kind <> 'void' FROM journal AS latest
  WHERE latest.record_id = journal.record_id ORDER BY latest.seq DESC LIMIT 1)`;

/** The imports of old records, newest first. */
export async function listImports(query: Query, limit: number): Promise<ImportRun[]> {
  const rows = await query.all<Omit<ImportRun, 'at'> & { receivedMs: number }>(sql`
    SELECT ${importId} AS id, min(received_ms) AS receivedMs, 
      min(coalesce((SELECT name FROM account WHERE user_name = journal.actor), actor)) AS by,
      count(*) AS entries, sum(${standingRecord}) AS standing
    FROM journal WHERE ${importId} IS NOT NULL
    GROUP BY ${importId} ORDER BY min(seq) DESC LIMIT ${limit}`);
  return rows.map(({ receivedMs, ...run }) => ({ ...run, at: new Date(receivedMs).toISOString() }));
}

export async function isImport(query: Query, id: string): Promise<boolean> {
  const rows = await query.all(sql`SELECT 1 FROM journal WHERE ${importId} = ${id} LIMIT 1`);
  return rows.length > 0;
}

/** For each record of an import that stands, its entry in force; the newest record first. */
export async function entriesToUndo(query: Query, id: string): Promise<string[]> {
  const rows = await query.all<{ inForce: string }>(sql`
    SELECT (SELECT latest.id FROM journal AS latest WHERE latest.record_id = journal.record_id
      ORDER BY latest.seq DESC LIMIT 1) AS inForce
    FROM journal WHERE ${importId} = ${id} AND supersedes IS NULL AND ${standingRecord}
    ORDER BY seq DESC`);
  return rows.map((row) => row.inForce);
}
