import { requireShare } from './refusal.ts';

/**
 * Greatest increase over the normal pitch by which weak yeast may be made up for: 10 % as a rule, 25 %
 * in an emergency. Source: [MS-pitch].
 */
const USUAL_CORRECTION = 1.1;
export const GREATEST_CORRECTION = 1.25;

type WeakYeastVerdict = {
  verdict: 'normal' | 'caution' | 'reject';
  correction: number;
  reason: string;
};

/**
 * Whether the viability of a yeast may still be made up for by pitching more.
 *
 *   correction = 1 / v; up to 1.10 (v = 0.909) normal, up to 1.25 (v = 0.80) caution, beyond reject
 *
 * @param viability  share alive [-], above 0 and at most 1
 * @returns verdict, correction [-] and the reason in words
 * @throws RangeError outside the bounds above
 *
 * More yeast also brings more dead yeast. Source: [MS-pitch]; the viabilities derived from it.
 */
export function weakYeastVerdict(viability: number): WeakYeastVerdict {
  requireShare('weakYeastVerdict', 'viability', viability);
  const correction = 1 / viability;
  if (correction > GREATEST_CORRECTION) {
    return {
      verdict: 'reject',
      correction,
      reason: 'Making up for it would take more than 25 % extra yeast, beyond any guidance',
    };
  }
  if (correction > USUAL_CORRECTION) {
    return {
      verdict: 'caution',
      correction,
      reason: 'Making up for it takes 10 to 25 % extra yeast, for emergencies only',
    };
  }
  return { verdict: 'normal', correction, reason: 'Made up for with at most 10 % extra yeast' };
}
