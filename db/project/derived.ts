import type { InStatement } from '@libsql/client';
import type { RecordEntry } from '#shared/entries/entry.ts';

/**
 * The figures kept beside the facts so that screens of the present stay fast: what is left of a
 * lot, its generation and line, and where a ferment stands. Each is worked out anew from the rows.
 */
export function derivedStatements(
  entries: readonly RecordEntry[],
  recordId: string,
): InStatement[] {
  const lots = unique(entries.flatMap((entry) => drawnLots(entry, recordId)));
  const ferments = unique(entries.flatMap(touchedFerments));
  const ownLots = entries.some(makesLot) ? [recordId] : [];
  return [
    ...(ferments.length > 0 ? [{ sql: fermentTimes, args: [JSON.stringify(ferments)] }] : []),
    ...(ownLots.length > 0 || entries.some(({ kind }) => kind === 'pitch')
      ? [{ sql: descent, args: [JSON.stringify(ownLots), JSON.stringify(ferments)] }]
      : []),
    ...(lots.length > 0 ? [{ sql: amountsLeft, args: [JSON.stringify(lots)] }] : []),
  ];
}

const unique = (ids: readonly string[]) => [...new Set(ids)];

const makesLot = ({ kind }: RecordEntry) =>
  kind === 'freshCulture' || kind === 'crop' || kind === 'blend' || kind === 'transfer';

function drawnLots(entry: RecordEntry, recordId: string): string[] {
  switch (entry.kind) {
    case 'freshCulture':
    case 'crop':
      return [recordId];
    case 'blend':
      return [recordId, ...entry.parents.map((parent) => parent.lotId)];
    case 'transfer':
      return [recordId, entry.lotId];
    case 'pitch':
    case 'discard':
    case 'treatment':
      return [entry.lotId];
    default:
      return [];
  }
}

function touchedFerments(entry: RecordEntry): string[] {
  return entry.kind === 'pitch' || entry.kind === 'chill' || entry.kind === 'rack'
    ? [entry.fermentId]
    : [];
}

const fermentTimes = `
UPDATE ferment SET
  pitched_ms = (SELECT min(happened_ms) FROM pitch WHERE ferment_id = ferment.id),
  chilled_ms = (SELECT happened_ms FROM chill WHERE ferment_id = ferment.id),
  racked_ms = (SELECT happened_ms FROM rack WHERE ferment_id = ferment.id)
WHERE id IN (SELECT value FROM json_each(?))`;

const taken = (column: string) => `round(
  lot.${column}
  - coalesce((SELECT sum(${column}) FROM pitch WHERE lot_id = lot.id), 0)
  - coalesce((SELECT sum(${column}) FROM discard WHERE lot_id = lot.id), 0)
  - coalesce((SELECT sum(${column}) FROM lot_parent WHERE parent_id = lot.id), 0)`;

// Rounded to the microlitre and the milligram, so that a lot used up to the last drop reads 0.
const amountsLeft = `
UPDATE lot SET
  left_l = ${taken('amount_l')}
    + coalesce((SELECT sum(added_l) FROM treatment WHERE lot_id = lot.id), 0), 6),
  left_kg = ${taken('amount_kg')}, 6)
WHERE id IN (SELECT value FROM json_each(?))`;

// Of all ways up to a fresh culture the one of most generations counts; ties go to the older id.
const descent = `
WITH RECURSIVE down (id) AS (
  SELECT value FROM json_each(?)
  UNION SELECT lot.id FROM lot WHERE ferment_id IN (SELECT value FROM json_each(?))
  UNION SELECT lot.id FROM down JOIN pitch ON pitch.lot_id = down.id
    JOIN lot ON lot.ferment_id = pitch.ferment_id
  UNION SELECT lot_parent.lot_id FROM down JOIN lot_parent ON lot_parent.parent_id = down.id
)
UPDATE lot SET (generation, times_pitched, line_id) = (
  WITH RECURSIVE up (id, passes) AS (
    SELECT lot.id, 0
    UNION SELECT pitch.lot_id, up.passes + 1 FROM up JOIN lot AS step ON step.id = up.id
      JOIN pitch ON pitch.ferment_id = step.ferment_id
    UNION SELECT lot_parent.parent_id, up.passes FROM up
      JOIN lot_parent ON lot_parent.lot_id = up.id
  )
  SELECT source.base_generation + up.passes, up.passes, source.id
  FROM up JOIN lot AS source ON source.id = up.id
  WHERE source.base_generation IS NOT NULL
  ORDER BY 1 DESC, 2 DESC, 3 LIMIT 1
)
WHERE id IN (SELECT id FROM down)`;
