import type { EntryOf, RecordEntry, RecordKind } from '#shared/entries/entry.ts';
import { cellConcentration } from '#shared/science/cellCount.ts';

/** A value worked out where it is written, from rows that stand already. */
type Expression = { sql: string; args: (string | number | null)[] };
type Cell = string | number | null | Expression;
export type Columns = Record<string, Cell>;

const isExpression = (cell: Cell): cell is Expression => typeof cell === 'object' && cell !== null;
/** What stands for a cell in a statement, and what is bound to it. */
export const markOf = (cell: Cell) => (isExpression(cell) ? cell.sql : '?');
export const argsOf = (cell: Cell) => (isExpression(cell) ? cell.args : [cell]);

/** The projection each kind of record lives in. */
export const tableOf = {
  brewery: 'brewery',
  site: 'site',
  strain: 'strain',
  vessel: 'vessel',
  freshCulture: 'lot',
  crop: 'lot',
  blend: 'lot',
  transfer: 'lot',
  ferment: 'ferment',
  pitch: 'pitch',
  reading: 'reading',
  chill: 'chill',
  rack: 'rack',
  storeReading: 'store_reading',
  count: 'cell_count',
  stain: 'stain',
  microCheck: 'micro_check',
  microResult: 'micro_result',
  treatment: 'treatment',
  discard: 'discard',
  hold: 'hold',
  release: 'release',
  familyHold: 'family_hold',
  familyRelease: 'family_release',
  medium: 'medium',
  plannedBrew: 'planned_brew',
  allotment: 'allotment',
  freshCulturePolicy: 'fresh_culture_policy',
} as const satisfies Record<RecordKind, string>;

// The first site is written as none, so that what names it and what names no site are one.
const unlessHome = (siteId: string | undefined): Cell =>
  siteId === undefined
    ? null
    : { sql: 'nullif(?, (SELECT home_id FROM site LIMIT 1))', args: [siteId] };
const siteOf = (table: 'vessel' | 'ferment' | 'lot', id: string): Expression => ({
  sql: `(SELECT site_id FROM ${table} WHERE id = ?)`,
  args: [id],
});

const amount = (entry: { amountL?: number | undefined; amountKg?: number | undefined }) => ({
  amount_l: entry.amountL ?? null,
  amount_kg: entry.amountKg ?? null,
});

/** The facts of an entry as columns of its projection. */
export function columnsOf(
  entry: RecordEntry,
  recordId: string,
  strainOfFerment: string | null,
): Columns {
  switch (entry.kind) {
    case 'brewery':
      return { name: entry.name, first_generation: entry.firstGeneration };
    case 'site':
      return {
        name: entry.name,
        code: entry.code,
        home_id: { sql: 'coalesce((SELECT home_id FROM site LIMIT 1), ?)', args: [recordId] },
      };
    case 'strain':
      return {
        name: entry.name,
        code: entry.code,
        crops: entry.crops,
        pending_routine_check: entry.pendingRoutineCheck ?? null,
      };
    case 'vessel':
      return {
        name: entry.name,
        capacity_l: entry.capacityL ?? null,
        site_id: unlessHome(entry.siteId),
      };
    case 'freshCulture':
      return {
        kind: 'freshCulture',
        code: entry.code ?? recordId,
        strain_id: entry.strainId,
        ferment_id: null,
        base_generation: entry.generation,
        site_id: unlessHome(entry.siteId),
        ...amount(entry),
      };
    case 'crop':
      return {
        kind: 'crop',
        code: entry.code ?? recordId,
        strain_id: strainOfFerment,
        ferment_id: entry.fermentId,
        base_generation: null,
        site_id: siteOf('ferment', entry.fermentId),
        ...amount(entry),
      };
    case 'blend':
      return {
        kind: 'blend',
        code: entry.code ?? recordId,
        strain_id: strainOfFerment,
        ferment_id: null,
        base_generation: null,
        site_id: siteOf('lot', entry.parents[0]?.lotId ?? ''),
        ...amount(entry),
      };
    case 'transfer':
      return {
        kind: 'transfer',
        code: entry.code ?? recordId,
        strain_id: strainOfFerment,
        ferment_id: null,
        base_generation: null,
        site_id: unlessHome(entry.toSiteId),
        ...amount(entry),
      };
    case 'ferment':
      return {
        gyle: entry.gyle,
        beer: entry.beer,
        vessel_id: entry.vesselId,
        site_id: siteOf('vessel', entry.vesselId),
        strain_id: entry.strainId,
        volume_l: entry.volumeL,
        original_gravity_sg: entry.originalGravitySg,
        planned_brew_id: entry.plannedBrewId ?? null,
      };
    case 'pitch':
      return {
        ferment_id: entry.fermentId,
        lot_id: entry.lotId,
        ...amount(entry),
        expected_viable_cells: entry.expectedViableCells ?? null,
        override: entry.override ?? null,
      };
    case 'reading':
      return {
        ferment_id: entry.fermentId,
        gravity_sg: entry.gravitySg ?? null,
        temp_c: entry.tempC ?? null,
        ph: entry.ph ?? null,
        cells_per_ml: suspendedCellsPerMl(entry),
      };
    case 'chill':
      return { ferment_id: entry.fermentId };
    case 'rack':
      return {
        ferment_id: entry.fermentId,
        gravity_sg: entry.gravitySg ?? null,
        batches: JSON.stringify(entry.batches),
      };
    case 'storeReading':
      return { lot_id: entry.lotId, temp_c: entry.tempC };
    case 'count':
      return { lot_id: entry.lotId, basis: entry.basis };
    case 'stain':
      return { lot_id: entry.lotId, stain: entry.stain, live: entry.live, dead: entry.dead };
    case 'microCheck':
      return {
        lot_id: entry.lotId,
        medium: entry.medium,
        looks_for: entry.looksFor,
        due_ms: Date.parse(entry.dueAt),
        purpose: entry.purpose ?? null,
        cells_plated: entry.cellsPlated ?? null,
      };
    case 'microResult':
      return {
        check_id: entry.checkId,
        outcome: entry.outcome,
        colonies: entry.colonies ?? null,
      };
    case 'treatment':
      return {
        lot_id: entry.lotId,
        treatment: entry.treatment,
        added_l: entry.addedL ?? null,
        override: entry.override ?? null,
      };
    case 'discard':
      return { lot_id: entry.lotId, ...amount(entry), why: entry.why };
    case 'hold':
    case 'release':
      return { lot_id: entry.lotId, why: entry.why };
    case 'allotment':
      return {
        planned_brew_id: entry.plannedBrewId,
        from_lot_id: entry.fromLotId ?? null,
        from_ferment_id: entry.fromFermentId ?? null,
        from_brew_id: entry.fromBrewId ?? null,
        ...amount(entry),
      };
    case 'freshCulturePolicy':
      return { strain_id: entry.strainId, comes_from: entry.comesFrom };
    case 'familyHold':
      return {
        lot_id: entry.lotId ?? null,
        ferment_id: entry.fermentId ?? null,
        why: entry.why,
      };
    case 'familyRelease':
      return { hold_id: entry.holdId, why: entry.why };
    case 'medium':
      return {
        name: entry.name,
        looks_for: entry.looksFor,
        reads: entry.reads,
        read_after_days: entry.readAfterDays,
        discard_per_million: entry.discardPerMillion ?? null,
        retired: entry.retired === true ? 1 : 0,
      };
    case 'plannedBrew':
      return {
        on_day: entry.onDay,
        beer: entry.beer,
        volume_l: entry.volumeL,
        original_gravity_sg: entry.originalGravitySg,
        strain_id: entry.strainId,
        vessel_id: entry.vesselId ?? null,
        site_id:
          entry.vesselId === undefined
            ? unlessHome(entry.siteId)
            : siteOf('vessel', entry.vesselId),
      };
  }
}

function suspendedCellsPerMl({ count, cellsPerMl }: EntryOf<'reading'>): number | null {
  return count === undefined ? (cellsPerMl ?? null) : cellConcentration(count).cellsPerMl;
}
