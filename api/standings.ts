import type { Database } from '#db/database.ts';
import { currentFermentIds, fermentEvidence, fermentIdsPitchedFrom } from '#db/ferments.ts';
import { lineIds, lineLots } from '#db/lines.ts';
import { lotEvidence } from '#db/lots.ts';
import { allRecords, getRecord } from '#db/records.ts';
import { DomainError } from '#shared/errors.ts';
import { fermentStanding } from '#shared/ferments/fermentStanding.ts';
import { lineStanding } from '#shared/lines/lineStanding.ts';
import { type CountErrors, lotStanding } from '#shared/lots/lotStanding.ts';
import { CHAMBER_CV, PIPETTING_CV } from '#shared/science/countSetup.ts';
import type { FermentStanding, LineStanding, LotStanding } from '#shared/views.ts';

const mostLines = 12;
const recentMs = 14 * 86_400_000;

export async function breweryOf({ query }: Database) {
  const [brewery] = await allRecords(query, 'brewery');
  return brewery ?? null;
}

async function countErrors(database: Database): Promise<CountErrors> {
  const brewery = await breweryOf(database);
  return brewery === null
    ? { chamberCv: CHAMBER_CV, pipettingCv: PIPETTING_CV }
    : {
        chamberCv: brewery.chamberCvPercent / 100,
        pipettingCv: brewery.pipettingCvPercent / 100,
      };
}

export async function lotStandings(
  database: Database,
  ids: readonly string[],
  nowMs: number,
): Promise<LotStanding[]> {
  const errors = await countErrors(database);
  const evidence = await lotEvidence(database.query, ids);
  return evidence.map((lot) => lotStanding(lot, errors, nowMs));
}

export async function fermentStandings(
  database: Database,
  ids: readonly string[],
  nowMs: number,
): Promise<FermentStanding[]> {
  const evidence = await fermentEvidence(database.query, ids);
  return evidence.map((ferment) => fermentStanding(ferment, nowMs));
}

export async function currentFerments(database: Database, nowMs: number) {
  const ids = await currentFermentIds(database.query, nowMs - recentMs);
  return fermentStandings(database, ids, nowMs);
}

export async function oneLine(
  database: Database,
  id: string,
  nowMs: number,
): Promise<LineStanding> {
  const source = await getRecord(database.query, 'freshCulture', id);
  const strain = await getRecord(database.query, 'strain', source.strainId);
  const lots = await lineLots(database.query, id);
  const fermentIds = await fermentIdsPitchedFrom(
    database.query,
    lots.map((lot) => lot.id),
  );
  const ferments = await fermentStandings(database, fermentIds, nowMs);
  return lineStanding({ id, strain, lots, ferments });
}

export async function currentLines(database: Database, nowMs: number): Promise<LineStanding[]> {
  const ids = await lineIds(database.query, mostLines);
  const lines: LineStanding[] = [];
  for (const id of ids) lines.push(await oneLine(database, id, nowMs));
  return lines;
}

/** @throws DomainError `not_found` */
export function theOnly<T>(items: readonly T[]): T {
  const [item] = items;
  if (item === undefined) throw new DomainError('not_found', 'There is no such record in the log.');
  return item;
}
