import type { Recorded } from '#shared/views.ts';

export type HoldEvidence = {
  holds: readonly Recorded<'hold'>[];
  releases: readonly Recorded<'release'>[];
  checks: readonly Recorded<'microCheck'>[];
  results: readonly Recorded<'microResult'>[];
};

export type Holding = {
  why: string;
  since: string;
  by: string;
  recordId: string;
  cause: 'held by hand' | 'result pending' | 'found' | 'discard';
};

/**
 * Why a lot may not be pitched now: put on hold by someone, a plate not yet read, or a plate that
 * found something. A release clears whatever came before it. The gravest cause comes first.
 */
export function holdingsOf(evidence: HoldEvidence): Holding[] {
  const released = Math.max(0, ...evidence.releases.map(moment));
  const outcomes = new Map(evidence.results.map((result) => [result.checkId, result]));
  const byHand = evidence.holds.map(
    (hold): Holding => ({ ...from(hold), why: hold.why, cause: 'held by hand' }),
  );
  const byPlate = evidence.checks.flatMap((check): Holding[] => {
    const result = outcomes.get(check.id);
    if (result === undefined)
      return [{ ...from(check), why: `${check.medium}: not yet read`, cause: 'result pending' }];
    if (result.outcome === 'clear') return [];
    const why =
      result.outcome === 'discard'
        ? `${check.medium}: over the limit, discard`
        : `${check.medium}: something grew`;
    return [{ ...from(result), why, cause: result.outcome }];
  });
  const order = ['discard', 'found', 'held by hand', 'result pending'];
  return [...byHand, ...byPlate]
    .filter((holding) => Date.parse(holding.since) > released)
    .sort((a, b) => order.indexOf(a.cause) - order.indexOf(b.cause));
}

const moment = (record: Recorded) => Date.parse(record.happenedAt);
const from = (record: Recorded) => ({
  since: record.happenedAt,
  by: record.by,
  recordId: record.id,
});
