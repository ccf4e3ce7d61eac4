import { sql } from 'drizzle-orm';
import type { Walked, WalkedStep } from '#shared/lineage/family.ts';
import type { StepKind } from '#shared/lineage/traceEvidence.ts';
import type { Query } from '../database.ts';

type Row = { up: string | null; down: string | null; holdIds: string; grewKeys: string };
type Walk = { walked: Walked; holdIds: string[]; grewKeys: number[] };

/**
 * All steps up and down from a record, the holds of families that touch any record on the way, and
 * the lots on whose plates something grew.
 *
 * Yeast goes from a lot into a ferment, from there into crops and casks, and from lots into mixed
 * ones. The engine takes the rows of a recursion in the order they came, so that each walk goes
 * nearest first; it takes every step once, so it ends even on a circle. A family may be of a
 * hundred thousand records, hence: a record is known by its place in the journal, a third as long
 * to tell and to compare as its id; only what can follow a kind of record is looked for behind it;
 * and the steps come out as one list of numbers.
 */
export async function walkFrom(query: Query, id: string, key: number): Promise<Walk> {
  const [row] = await query.all<Row>(sql`
    WITH RECURSIVE
    up (kind, via, key, id) AS MATERIALIZED (
      SELECT 's', 0, ${key}, ${id}
      UNION SELECT 'p', up.key, lot.seq, lot.id
        FROM up CROSS JOIN pitch ON pitch.ferment_id = up.id
        CROSS JOIN lot ON lot.id = pitch.lot_id WHERE up.kind IN ('s', 'c', 'r')
      UNION SELECT 'c', up.key, ferment.seq, ferment.id
        FROM up CROSS JOIN lot ON lot.id = up.id
        CROSS JOIN ferment ON ferment.id = lot.ferment_id WHERE up.kind NOT IN ('c', 'r')
      UNION SELECT substr(lot.kind, 1, 1), up.key, parent.seq, parent.id
        FROM up CROSS JOIN lot_parent ON lot_parent.lot_id = up.id
        CROSS JOIN lot ON lot.id = up.id
        CROSS JOIN lot AS parent ON parent.id = lot_parent.parent_id
        WHERE up.kind NOT IN ('c', 'r')
      UNION SELECT 'r', up.key, ferment.seq, ferment.id
        FROM up CROSS JOIN rack ON rack.id = up.id
        CROSS JOIN ferment ON ferment.id = rack.ferment_id WHERE up.kind = 's'
    ),
    down (kind, via, key, id, batches) AS MATERIALIZED (
      SELECT 's', 0, ${key}, ${id}, 0
      UNION SELECT 'p', down.key, ferment.seq, ferment.id, 0
        FROM down CROSS JOIN pitch ON pitch.lot_id = down.id
        CROSS JOIN ferment ON ferment.id = pitch.ferment_id WHERE down.kind NOT IN ('p', 'r')
      UNION SELECT 'c', down.key, lot.seq, lot.id, 0
        FROM down CROSS JOIN lot ON lot.ferment_id = down.id WHERE down.kind IN ('s', 'p')
      UNION SELECT substr(lot.kind, 1, 1), down.key, lot.seq, lot.id, 0
        FROM down CROSS JOIN lot_parent ON lot_parent.parent_id = down.id
        CROSS JOIN lot ON lot.id = lot_parent.lot_id WHERE down.kind NOT IN ('p', 'r')
      UNION SELECT 'r', down.key, rack.seq, rack.id, json_array_length(rack.batches)
        FROM down CROSS JOIN rack ON rack.ferment_id = down.id WHERE down.kind IN ('s', 'p')
    ),
    kin (key, id) AS (SELECT key, id FROM up UNION ALL SELECT key, id FROM down)
    SELECT
      (SELECT group_concat(unicode(kind) || ',' || via || ',' || key || ',0')
        FROM up WHERE kind <> 's') AS up,
      (SELECT group_concat(unicode(kind) || ',' || via || ',' || key || ',' || batches)
        FROM down WHERE kind <> 's') AS down,
      (SELECT json_group_array(hold_id) FROM (
        SELECT hold_id FROM kin CROSS JOIN family_hold_lot ON lot_id = kin.id
          WHERE EXISTS (SELECT 1 FROM family_hold)
        UNION SELECT hold_id FROM kin CROSS JOIN family_hold_ferment ON ferment_id = kin.id
          WHERE EXISTS (SELECT 1 FROM family_hold)
      )) AS holdIds,
      (SELECT json_group_array(kin.key)
        FROM kin CROSS JOIN micro_check AS plate ON plate.lot_id = kin.id
          CROSS JOIN micro_result AS found ON found.check_id = plate.id
        WHERE found.outcome <> 'clear'
      ) AS grewKeys`);
  return {
    walked: { up: stepsIn(row?.up ?? ''), down: stepsIn(row?.down ?? '') },
    holdIds: JSON.parse(row?.holdIds ?? '[]'),
    grewKeys: JSON.parse(row?.grewKeys ?? '[]'),
  };
}

const kinds: readonly StepKind[] = ['pitch', 'crop', 'blend', 'transfer', 'rack'];
const kindOf = new Map(kinds.map((kind) => [kind.charCodeAt(0), kind]));

function stepsIn(text: string): WalkedStep[] {
  const told: number[] = JSON.parse(`[${text}]`);
  const steps: WalkedStep[] = [];
  for (let at = 0; at < told.length; at += 4) {
    const kind = kindOf.get(told[at] ?? 0);
    if (kind === undefined) throw new Error('The walk of a family told a step of no kind.');
    // By their places: to take four out as a list costs as much as the walk.
    steps.push({
      kind,
      via: told[at + 1] ?? 0,
      key: told[at + 2] ?? 0,
      batches: told[at + 3] ?? 0,
    });
  }
  return steps;
}
