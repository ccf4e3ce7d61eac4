import type { Database } from '#db/database.ts';
import { currentFermentIds } from '#db/reads/ferments.ts';
import { lineEvidence, lineIds, lineIdsBeside } from '#db/reads/lines.ts';
import { lotEvidence } from '#db/reads/lots.ts';
import { allRecords } from '#db/reads/records.ts';
import { strainHistory } from '#db/reads/strainHistory.ts';
import type { SiteScope } from '#db/sites/siteScope.ts';
import { dayMs } from '#shared/durations.ts';
import { DomainError } from '#shared/errors.ts';
import { lineSheet, lineStandings } from '#shared/lines/lineStanding.ts';
import { asOf, type BlendedLot, isTested } from '#shared/lots/byParts.ts';
import { type CountErrors, type LotEvidence, lotStanding } from '#shared/lots/lotStanding.ts';
import type { StrainHistory } from '#shared/lots/strainHistory.ts';
import { type StrainLearning, strainLearning } from '#shared/lots/strainLearning.ts';
import { remembered } from '#shared/remembered.ts';
import { CHAMBER_CV, PIPETTING_CV } from '#shared/science/countSetup.ts';
import type { LineSheet, LineStanding } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { fermentStandings } from './fermentStandings.ts';

/** Those alive, and of the others the latest: more would tell of yeast long gone. */
const mostLines = 6;
/** What strains teach, worked out anew only once more is known of one. */
const mostStrains = 64;
const learningOf = remembered(
  ({ history, errors }: { history: StrainHistory; errors: CountErrors }) =>
    strainLearning(history, errors),
  mostStrains,
);
const recentMs = 14 * dayMs;

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
  return standingsOf(database, evidence, { errors, nowMs, learnt: new Map() });
}

type Moment = { errors: CountErrors; nowMs: number; learnt: Map<string, StrainLearning> };

async function standingsOf(database: Database, evidence: readonly LotEvidence[], moment: Moment) {
  const { errors, nowMs, learnt } = moment;
  for (const { strain } of evidence)
    if (!learnt.has(strain.id))
      learnt.set(
        strain.id,
        learningOf({ history: await strainHistory(database.query, strain), errors }),
      );
  const standings: LotStanding[] = [];
  for (const lot of evidence) {
    const blended = await lotsBlended(database, lot, moment);
    const learning = learnt.get(lot.strain.id);
    standings.push(lotStanding({ ...lot, blended }, errors, nowMs, learning));
  }
  return standings;
}

/** The lots in a blend that was never counted or stained, as they stood when it was made. */
async function lotsBlended(
  database: Database,
  lot: LotEvidence,
  moment: Moment,
): Promise<BlendedLot[]> {
  const made = lot.first ?? lot.record;
  if (made.kind !== 'blend' || isTested(lot)) return [];
  const nowMs = Date.parse(made.happenedAt);
  const ids = made.parents.map(({ lotId }) => lotId);
  const evidence = (await lotEvidence(database.query, ids)).map((part) => asOf(part, nowMs));
  const standings = await standingsOf(database, evidence, { ...moment, nowMs });
  return made.parents.flatMap(({ lotId, amountL, amountKg }) => {
    const standing = standings.find(({ id }) => id === lotId);
    const amount = amountL ?? amountKg;
    return standing === undefined || amount === undefined ? [] : [{ standing, amount }];
  });
}

export async function currentFerments(database: Database, nowMs: number, at?: SiteScope) {
  const ids = await currentFermentIds(database.query, nowMs - recentMs, at);
  return fermentStandings(database, ids, nowMs);
}

/** @throws DomainError `not_found` */
export async function oneLine({ query }: Database, id: string, at?: SiteScope): Promise<LineSheet> {
  const ids = await lineIdsBeside(query, id, mostLines, at);
  const line = lineSheet(id, await lineEvidence(query, ids, at));
  return theOnly(line === undefined ? [] : [line]);
}

export async function currentLines({ query }: Database, at?: SiteScope): Promise<LineStanding[]> {
  return lineStandings(await lineEvidence(query, await lineIds(query, mostLines, at), at));
}

/** @throws DomainError `not_found` */
export function theOnly<T>(items: readonly T[]): T {
  const [item] = items;
  if (item === undefined) throw new DomainError('not_found', 'There is no such record in the log.');
  return item;
}
