import { sql } from 'drizzle-orm';
import { dayMs } from '#shared/durations.ts';
import { abvBalling } from '#shared/science/alcohol.ts';
import { washObjections } from '#shared/treatments/acidWash.ts';
import type { Query } from '../database.ts';
import { oldestCrops } from '../reads/oldestCrops.ts';
import { getRecord } from '../reads/records.ts';

type Row = {
  strainId: string;
  happenedMs: number;
  kind: string;
  live: number | null;
  dead: number | null;
  grew: number;
  originalSg: number | null;
  lowestSg: number | null;
};

/** Why a lot should not be acid washed at a moment; empty when nothing speaks against it. */
export async function objectionsToWash(
  query: Query,
  lotId: string,
  atMs: number,
): Promise<string[]> {
  const [row] = await query.all<Row>(sql`
    SELECT lot.strain_id AS strainId, lot.happened_ms AS happenedMs, lot.kind AS kind,
      latest.live AS live, latest.dead AS dead,
      EXISTS (SELECT 1 FROM micro_check AS plate
        JOIN micro_result AS found ON found.check_id = plate.id
        WHERE plate.lot_id = lot.id AND found.outcome <> 'clear') AS grew,
      ferment.original_gravity_sg AS originalSg,
      (SELECT min(gravity_sg) FROM (
        SELECT gravity_sg FROM reading WHERE ferment_id = lot.ferment_id
        UNION ALL SELECT gravity_sg FROM rack WHERE ferment_id = lot.ferment_id)) AS lowestSg
    FROM lot LEFT JOIN ferment ON ferment.id = lot.ferment_id
      LEFT JOIN stain AS latest ON latest.id = (
        SELECT id FROM stain WHERE lot_id = lot.id AND happened_ms <= ${atMs}
        ORDER BY happened_ms DESC, seq DESC LIMIT 1)
    WHERE lot.id = ${lotId}`);
  if (row === undefined) return [];
  const { live, dead, originalSg, lowestSg } = row;
  const strain = await getRecord(query, 'strain', row.strainId);
  const takenMs = (await oldestCrops(query, [lotId])).get(lotId) ?? row.happenedMs;
  return washObjections({
    viabilityPercent: live === null || dead === null ? null : (100 * live) / (live + dead),
    minViabilityPercent: strain.minViabilityPercent,
    storedDays: (atMs - takenMs) / dayMs,
    maxStorageDays: strain.maxStorageDays,
    isFresh: row.kind === 'freshCulture',
    hasContaminants: row.grew === 1,
    abvPercent:
      originalSg === null || lowestSg === null || lowestSg > originalSg
        ? null
        : abvBalling(originalSg, lowestSg),
  });
}
