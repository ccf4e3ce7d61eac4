import { sql } from 'drizzle-orm';
import type { Walked, WalkedStep } from '#shared/lineage/family.ts';
import type { StepKind } from '#shared/lineage/traceEvidence.ts';
import type { Query } from '../database.ts';

type Row = { up: string | null; down: string | null; holdIds: string; grewIds: string };
type Walk = { walked: Walked; holdIds: string[]; grewIds: string[] };

/**
 * All steps up and down from a record, the holds of families that touch any record on the way, and
 * the lots on whose plates something grew.
 *
 * Yeast goes from a lot into a ferment, from there into crops and casks, and from lots into mixed
 * ones. The engine takes the rows of a recursion in the order they came, so that each walk goes
 * nearest first; it takes every step once, so it ends even on a circle. A family may be of a
 * hundred thousand records, hence: only what can follow a kind of record is looked for behind it,
 * and the steps come out as one text, which costs a third of so many rows.
 */
export async function walkFrom(query: Query, id: string): Promise<Walk> {
  const [row] = await query.all<Row>(sql`
    WITH RECURSIVE
    up (kind, via, id) AS MATERIALIZED (
      SELECT 's', '', ${id}
      UNION SELECT 'p', up.id, pitch.lot_id FROM up JOIN pitch ON pitch.ferment_id = up.id
        WHERE up.kind IN ('s', 'c', 'r')
      UNION SELECT 'c', up.id, lot.ferment_id FROM up JOIN lot ON lot.id = up.id
        WHERE up.kind NOT IN ('c', 'r') AND lot.kind = 'crop'
      UNION SELECT substr(lot.kind, 1, 1), up.id, lot_parent.parent_id
        FROM up JOIN lot_parent ON lot_parent.lot_id = up.id JOIN lot ON lot.id = up.id
        WHERE up.kind NOT IN ('c', 'r')
      UNION SELECT 'r', up.id, rack.ferment_id FROM up JOIN rack ON rack.id = up.id
        WHERE up.kind = 's'
    ),
    down (kind, via, id, batches) AS MATERIALIZED (
      SELECT 's', '', ${id}, 0
      UNION SELECT 'p', down.id, pitch.ferment_id, 0
        FROM down JOIN pitch ON pitch.lot_id = down.id WHERE down.kind NOT IN ('p', 'r')
      UNION SELECT 'c', down.id, lot.id, 0
        FROM down JOIN lot ON lot.ferment_id = down.id WHERE down.kind IN ('s', 'p')
      UNION SELECT substr(lot.kind, 1, 1), down.id, lot_parent.lot_id, 0
        FROM down JOIN lot_parent ON lot_parent.parent_id = down.id
        JOIN lot ON lot.id = lot_parent.lot_id WHERE down.kind NOT IN ('p', 'r')
      UNION SELECT 'r', down.id, rack.id, json_array_length(rack.batches)
        FROM down JOIN rack ON rack.ferment_id = down.id WHERE down.kind IN ('s', 'p')
    ),
    kin (id) AS (SELECT id FROM up UNION ALL SELECT id FROM down)
    SELECT
      (SELECT group_concat(kind || via || id || 0) FROM up WHERE kind <> 's') AS up,
      (SELECT group_concat(kind || via || id || batches) FROM down WHERE kind <> 's') AS down,
      (SELECT json_group_array(hold_id) FROM (
        SELECT hold_id FROM kin CROSS JOIN family_hold_lot ON lot_id = kin.id
          WHERE EXISTS (SELECT 1 FROM family_hold)
        UNION SELECT hold_id FROM kin CROSS JOIN family_hold_ferment ON ferment_id = kin.id
          WHERE EXISTS (SELECT 1 FROM family_hold)
      )) AS holdIds,
      (SELECT json_group_array(plate.lot_id)
        FROM kin CROSS JOIN micro_check AS plate ON plate.lot_id = kin.id
          CROSS JOIN micro_result AS found ON found.check_id = plate.id
        WHERE found.outcome <> 'clear' AND EXISTS (SELECT 1 FROM micro_result)
      ) AS grewIds`);
  return {
    walked: { up: stepsIn(row?.up ?? ''), down: stepsIn(row?.down ?? '') },
    holdIds: JSON.parse(row?.holdIds ?? '[]'),
    grewIds: JSON.parse(row?.grewIds ?? '[]'),
  };
}

const kinds: Record<string, StepKind> = {
  ...{ p: 'pitch', c: 'crop', b: 'blend', t: 'transfer', r: 'rack' },
};
const idLength = 36;

function stepsIn(text: string): WalkedStep[] {
  const steps: WalkedStep[] = [];
  let via = '';
  for (let from = 0; from < text.length; ) {
    const kind = kinds[text.charAt(from)];
    if (kind === undefined) throw new Error('The walk of a family told a step of no kind.');
    const viaEnd = from + 1 + idLength;
    const idEnd = viaEnd + idLength;
    const comma = text.indexOf(',', idEnd);
    const end = comma === -1 ? text.length : comma;
    // What comes from one record comes together.
    if (via === '' || !text.startsWith(via, from + 1)) via = text.slice(from + 1, viaEnd);
    const id = text.slice(viaEnd, idEnd);
    steps.push({ kind, via, id, batches: Number(text.slice(idEnd, end)) });
    from = end + 1;
  }
  return steps;
}
