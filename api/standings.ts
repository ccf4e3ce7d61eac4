import type { Database } from '#db/database.ts';
import { currentFermentIds } from '#db/ferments.ts';
import { lineEvidence, lineIds, lineIdsBeside } from '#db/lines.ts';
import { lotEvidence } from '#db/lots.ts';
import { allRecords } from '#db/records.ts';
import type { SiteScope } from '#db/siteScope.ts';
import { strainHistory } from '#db/strainHistory.ts';
import { DomainError } from '#shared/errors.ts';
import { lineSheet, lineStandings } from '#shared/lines/lineStanding.ts';
import { type CountErrors, lotStanding } from '#shared/lots/lotStanding.ts';
import { type StrainLearning, strainLearning } from '#shared/lots/strainLearning.ts';
import { CHAMBER_CV, PIPETTING_CV } from '#shared/science/countSetup.ts';
import type { LineSheet, LineStanding } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { fermentStandings } from './fermentStandings.ts';

/** Those alive, and of the others the latest: more would tell of yeast long gone. */
const mostLines = 6;
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
  const strains = new Map(evidence.map(({ strain }) => [strain.id, strain]));
  const learnt = new Map<string, StrainLearning>();
  for (const strain of strains.values())
    learnt.set(strain.id, strainLearning(await strainHistory(database.query, strain), errors));
  return evidence.map((lot) => lotStanding(lot, errors, nowMs, learnt.get(lot.strain.id)));
}

export async function currentFerments(database: Database, nowMs: number, at?: SiteScope) {
  const ids = await currentFermentIds(database.query, nowMs - recentMs, at);
  return fermentStandings(database, ids, nowMs);
}

/** @throws DomainError `not_found` */
export async function oneLine({ query }: Database, id: string): Promise<LineSheet> {
  const ids = await lineIdsBeside(query, id, mostLines);
  const line = lineSheet(id, await lineEvidence(query, ids));
  return theOnly(line === undefined ? [] : [line]);
}

export async function currentLines({ query }: Database, at?: SiteScope): Promise<LineStanding[]> {
  return lineStandings(await lineEvidence(query, await lineIds(query, mostLines, at)));
}

/** @throws DomainError `not_found` */
export function theOnly<T>(items: readonly T[]): T {
  const [item] = items;
  if (item === undefined) throw new DomainError('not_found', 'There is no such record in the log.');
  return item;
}
