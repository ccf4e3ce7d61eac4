import type { PlanBrew } from '#shared/plan/planView.ts';
import type { LotStanding } from '#shared/views/lots.ts';

type Lot = Pick<LotStanding, 'id' | 'strain' | 'ageHours'> & {
  verdict: Pick<LotStanding['verdict'], 'verdict'>;
};
type Brew = Pick<PlanBrew, 'id' | 'beer' | 'onDay' | 'strainId'> & {
  parts: readonly { sourceId: string }[];
};

type ToTest<L, B> = {
  lot: L /** The first brew that the plan feeds from it. */;
  brew: B | null;
};

/**
 * The lots that must be tested before they are pitched, the one a brew needs soonest first; of those
 * that feed no brew the youngest first. The rest keep their order.
 */
export function testOrder<L extends Lot, B extends Brew>(
  lots: readonly L[],
  brews: readonly B[],
): { first: ToTest<L, B>[]; rest: L[] } {
  const isToTest = ({ verdict }: L) => verdict.verdict === 'test first';
  const soonest = ({ id }: L): B | null =>
    brews
      .filter(({ parts }) => parts.some(({ sourceId }) => sourceId === id))
      .toSorted((a, b) => a.onDay.localeCompare(b.onDay))[0] ?? null;
  const first = lots
    .filter(isToTest)
    .map((lot) => ({ lot, brew: soonest(lot) }))
    .toSorted(
      (a, b) => dayOf(a.brew).localeCompare(dayOf(b.brew)) || a.lot.ageHours - b.lot.ageHours,
    );
  return { first, rest: lots.filter((lot) => !isToTest(lot)) };
}

const dayOf = (brew: { onDay: string } | null) => brew?.onDay ?? '9999-12-31';
