import type { Evidence as FigureEvidence } from '#shared/science/evidence.ts';

/** From best to worst; the worst reason decides. */
export const verdicts = ['fit', 'test first', 'hold', 'past it'] as const;
export type VerdictWord = (typeof verdicts)[number];

/** The same for a line; a line without living yeast is over, whatever was found. */
export const lineVerdicts = ['steady', 'settling', 'due soon', 'drifting', 'due'] as const;
export type LineVerdictWord = (typeof lineVerdicts)[number];

/** What a reason rests on: a figure's way here, the house's own limit, or the record itself. */
export type Evidence = FigureEvidence | 'house policy' | 'record';

/** What comes first among reasons of one verdict: the yeast's condition before its age. */
export const weights = ['contamination', 'condition', 'knowledge', 'keeping', 'age'] as const;
export type Weight = (typeof weights)[number];

export type Reason<Word extends string = VerdictWord> = {
  rule: string;
  verdict: Word;
  weight: Weight;
  /** One sentence a brewer understands. */
  text: string;
  figure: string;
  limit: string;
  source: string;
  evidence: Evidence;
  recordId: string | null;
  /** The page on which the record stands. */
  href: string | null;
};

export type Verdict = { verdict: VerdictWord; reasons: Reason[] };

/** Reasons from the gravest on: by verdict, and among equals by weight. */
export function gravestFirst<Word extends string>(
  reasons: readonly Reason<Word>[],
  words: readonly Word[],
): Reason<Word>[] {
  return reasons.toSorted(
    (a, b) =>
      words.indexOf(b.verdict) - words.indexOf(a.verdict) ||
      weights.indexOf(a.weight) - weights.indexOf(b.weight),
  );
}

/** The verdict of a set of reasons: the worst of them, and they in that order. */
export function verdictOf(reasons: readonly Reason[]): Verdict {
  const ordered = gravestFirst(reasons, verdicts);
  return { verdict: ordered[0]?.verdict ?? 'fit', reasons: ordered };
}
