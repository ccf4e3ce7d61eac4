import { desc, eq, sql } from 'drizzle-orm';
import type { LineLot } from '#shared/lines/lineStanding.ts';
import type { Query } from './database.ts';
import { lotEvidence, lotIdsOfLine } from './lots.ts';
import { lot } from './schema/index.ts';

const isAlive = sql`EXISTS (
  SELECT 1 FROM lot AS member
  WHERE member.line_id = lot.id AND (member.left_l > 0 OR member.left_kg > 0))`;

/** The fresh cultures of lines still alive, and of the newest others, newest first. */
export async function lineIds(query: Query, limit: number): Promise<string[]> {
  const rows = await query
    .select({ id: lot.id })
    .from(lot)
    .where(eq(lot.kind, 'freshCulture'))
    .orderBy(desc(isAlive), desc(lot.happenedMs))
    .limit(limit);
  return rows.map((row) => row.id);
}

export async function lineLots(query: Query, lineId: string): Promise<LineLot[]> {
  const evidence = await lotEvidence(query, await lotIdsOfLine(query, lineId));
  return evidence.map(({ row, record, stains }) => ({
    id: row.id,
    code: row.code,
    generation: row.generation,
    happenedMs: row.happenedMs,
    left: row.leftL ?? row.leftKg ?? 0,
    record,
    stains,
  }));
}
