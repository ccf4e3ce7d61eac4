import type { Database } from '#db/database.ts';
import { fermentEvidence, rackedFermentIds } from '#db/reads/ferments.ts';
import type { FermentEvidence } from '#shared/ferments/fermentEvidence.ts';
import { fermentJudgement } from '#shared/ferments/fermentJudgement.ts';
import { fermentPage } from '#shared/ferments/fermentPage.ts';
import { fermentStanding, stateOf } from '#shared/ferments/fermentStanding.ts';
import { pastCandidate } from '#shared/ferments/finishedFerment.ts';
import { pitchedMsOf } from '#shared/ferments/gravities.ts';
import { LEAST_AT_SITE } from '#shared/ferments/housePast.ts';
import type { FermentView } from '#shared/ferments/runningCourse.ts';
import type { SiteKey } from '#shared/sites/site.ts';
import type { FermentPage, FermentStanding } from '#shared/views/ferments.ts';
import { rememberedFerments as models } from './rememberedFerments.ts';

/** The latest ferments of a strain looked at for its band: some three months of three brews a week. */
const mostPast = 40;

export async function fermentStandings(
  database: Database,
  ids: readonly string[],
  nowMs: number,
): Promise<FermentStanding[]> {
  const evidence = await fermentEvidence(database.query, ids);
  const running = evidence.filter((ferment) => stateOf(ferment) === 'fermenting');
  const viewOf = await viewsOf(database, running, nowMs);
  return evidence.map((ferment) =>
    fermentStanding(ferment, nowMs, fermentJudgement(ferment, viewOf(ferment))),
  );
}

export async function fermentPages(
  database: Database,
  ids: readonly string[],
  nowMs: number,
): Promise<FermentPage[]> {
  const evidence = await fermentEvidence(database.query, ids);
  const viewOf = await viewsOf(database, evidence, nowMs);
  return evidence.map((ferment) => fermentPage(ferment, viewOf(ferment)));
}

type Past = { strainId: string; beforeMs: number; most: number };

/** Of the same site, where the strain is known there: FVs and cooling differ from site to site. */
async function pastIdsOf({ query }: Database, past: Past, site: SiteKey): Promise<string[]> {
  const own = await rackedFermentIds(query, { ...past, at: { key: site } });
  return own.length < LEAST_AT_SITE ? rackedFermentIds(query, past) : own;
}

/** Each ferment against those racked before it was pitched, so that its band stands still while it runs. */
async function viewsOf(
  database: Database,
  ferments: readonly FermentEvidence[],
  nowMs: number,
): Promise<(ferment: FermentEvidence) => FermentView> {
  const idsBefore = new Map<string, string[]>();
  for (const ferment of ferments) {
    const beforeMs = pitchedMsOf(ferment);
    if (beforeMs === null) continue;
    const past = { strainId: ferment.strain.id, beforeMs, most: mostPast };
    idsBefore.set(ferment.record.id, await pastIdsOf(database, past, ferment.siteId));
  }
  const pastIds = [...new Set([...idsBefore.values()].flat())];
  const evidence = await fermentEvidence(database.query, pastIds);
  const candidates = new Map(
    evidence.map((ferment) => [ferment.record.id, pastCandidate(ferment, models)]),
  );
  return ({ record }) => ({
    nowMs,
    models,
    past: (idsBefore.get(record.id) ?? []).flatMap((id) => candidates.get(id) ?? []),
  });
}
