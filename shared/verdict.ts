import type { Evidence as FigureEvidence } from '#shared/science/evidence.ts';

/** From best to worst; the worst reason decides. */
export const verdicts = ['fit', 'test first', 'hold', 'past it'] as const;
export type VerdictWord = (typeof verdicts)[number];

/** What a reason rests on: a figure's way here, the house's own limit, or the record itself. */
export type Evidence = FigureEvidence | 'house policy' | 'record';

export type Reason = {
  rule: string;
  verdict: VerdictWord;
  /** One sentence a brewer understands. */
  text: string;
  figure: string;
  limit: string;
  source: string;
  evidence: Evidence;
  recordId: string | null;
};

export type Verdict = { verdict: VerdictWord; reasons: Reason[] };

/** The verdict of a set of reasons: the worst of them, and they in that order. */
export function verdictOf(reasons: readonly Reason[]): Verdict {
  const rank = (reason: Reason) => verdicts.indexOf(reason.verdict);
  const ordered = reasons.toSorted((a, b) => rank(b) - rank(a));
  return { verdict: ordered[0]?.verdict ?? 'fit', reasons: ordered };
}
