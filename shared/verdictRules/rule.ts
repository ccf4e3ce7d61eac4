import type { Evidence, Reason, Weight } from '#shared/verdict.ts';

/** What a rule saw: the figure, and the record it stands in. */
export type Found = {
  figure: string;
  recordId: string | null;
  href: string | null;
  /** In place of the rule's own words, where the record brings its own. */
  text?: string;
};

/** One row of the table. Of the rows of one name the first that applies speaks. */
export type Rule<Facts, Word extends string> = {
  rule: string;
  weight: Weight;
  verdict: Word;
  text: string;
  limit: (facts: Facts) => string;
  source: string;
  evidence: Evidence;
  /** Nothing where the rule does not apply. */
  find: (facts: Facts) => readonly Found[];
};

/** Who sets the limit: the strain's own policy. */
export const housePolicy = {
  source: "the strain's limits in Setup",
  evidence: 'house policy',
} as const;

/** The reasons that a table of rules finds in the facts, in the order of the table. */
export function reasonsBy<Facts, Word extends string>(
  rules: readonly Rule<Facts, Word>[],
  facts: Facts,
): Reason<Word>[] {
  const spoken = new Set<string>();
  return rules.flatMap(({ find, limit, ...row }) => {
    const found = spoken.has(row.rule) ? [] : find(facts);
    if (found.length > 0) spoken.add(row.rule);
    return found.map((each) => ({ ...row, limit: limit(facts), ...each }));
  });
}
