import { type Verdict, verdictOf } from '#shared/verdict.ts';
import type { LotFacts } from '#shared/verdictRules/lotFacts.ts';
import { lotRules } from '#shared/verdictRules/lotRules.ts';
import { reasonsBy } from '#shared/verdictRules/rule.ts';

/** Whether a lot is fit to pitch, and every reason for and against. Condition counts before age. */
export function lotVerdict(lot: LotFacts): Verdict {
  return verdictOf(reasonsBy(lotRules, lot));
}
