import { refuse, requirePositive } from './refusal.ts';

export const runsRuleSources = ['Western Electric 1956', 'Nelson 1984'] as const;
export type RunsRuleSource = (typeof runsRuleSources)[number];

type RunsSignal = { index: number; rule: string; source: RunsRuleSource };

/** A window of the last values in sigma from the centre, oldest first, holds the pattern. */
type Rule = { rule: string; length: number; isBroken: (window: readonly number[]) => boolean };

const many = (window: readonly number[], needed: number, isHit: (z: number) => boolean) =>
  window.filter(isHit).length >= needed;

/** On the same side beyond a distance, the last value among them. */
const sameSide = (window: readonly number[], needed: number, beyond: number) => {
  const last = window.at(-1) ?? 0;
  const isHit = (z: number) => z * Math.sign(last) > beyond;
  return isHit(last) && many(window, needed, isHit);
};

const steps = (window: readonly number[]) =>
  window.slice(1).map((z, i) => Math.sign(z - (window[i] ?? z)));

const beyondLimit: Rule = {
  rule: 'one beyond 3 sigma',
  length: 1,
  isBroken: (window) => many(window, 1, (z) => Math.abs(z) > 3),
};
const twoOfThree: Rule = {
  rule: 'two of three beyond 2 sigma on one side',
  length: 3,
  isBroken: (window) => sameSide(window, 2, 2),
};
const fourOfFive: Rule = {
  rule: 'four of five beyond 1 sigma on one side',
  length: 5,
  isBroken: (window) => sameSide(window, 4, 1),
};
const inARow = (length: number): Rule => ({
  rule: `${length} in a row on one side`,
  length,
  isBroken: (window) => sameSide(window, length, 0),
});

const rules: Record<RunsRuleSource, readonly Rule[]> = {
  'Western Electric 1956': [beyondLimit, twoOfThree, fourOfFive, inARow(8)],
  'Nelson 1984': [
    beyondLimit,
    inARow(9),
    {
      rule: 'six in a row rising or falling',
      length: 6,
      isBroken: (window) => Math.abs(steps(window).reduce((sum, step) => sum + step, 0)) === 5,
    },
    {
      rule: 'fourteen in a row up and down in turn',
      length: 14,
      isBroken: (window) =>
        steps(window).every((step, i, all) => step !== 0 && step !== all[i - 1]),
    },
    twoOfThree,
    fourOfFive,
    {
      rule: 'fifteen in a row within 1 sigma',
      length: 15,
      isBroken: (window) => many(window, 15, (z) => Math.abs(z) < 1),
    },
    {
      rule: 'eight in a row beyond 1 sigma on either side',
      length: 8,
      isBroken: (window) => many(window, 8, (z) => Math.abs(z) > 1),
    },
  ],
};

/**
 * Patterns in a series that chance alone rarely makes, by the rules of one published set.
 *
 * @param values  in order [any unit], finite
 * @param chart  centre [unit] and sigma [unit] > 0
 * @param source  which set of rules
 * @returns a signal at each value that completes a pattern
 * @throws RangeError outside the bounds above
 *
 * More rules find more and cry wolf more often. "Two of three" and "four of five" may end before the
 * window is full. Source: [WesternElectric1956]; [Nelson1984]; both from memory.
 */
export function runsRules(
  values: readonly number[],
  chart: { centre: number; sigma: number },
  source: RunsRuleSource,
): RunsSignal[] {
  const { centre, sigma } = chart;
  requirePositive('runsRules', 'sigma', sigma);
  if (!values.every(Number.isFinite)) refuse('runsRules', 'values must be finite', values);
  const scores = values.map((value) => (value - centre) / sigma);
  return scores.flatMap((_, index) =>
    rules[source].flatMap(({ rule, length, isBroken }) => {
      const window = scores.slice(Math.max(0, index + 1 - length), index + 1);
      const isPartial = rule === twoOfThree.rule || rule === fourOfFive.rule;
      if (window.length < length && !isPartial) return [];
      return isBroken(window) ? [{ index, rule, source }] : [];
    }),
  );
}
