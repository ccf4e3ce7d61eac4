import { betaQuantile } from './betaFunctions.ts';
import { normalQuantile } from './normal.ts';
import { refuse, requireConfidence, requireCount } from './refusal.ts';

/**
 * Score limits for a proportion of which a sample was counted.
 *
 *   centre = (p + z^2/2n) / (1 + z^2/n),  half = z sqrt(p (1-p)/n + z^2/4n^2) / (1 + z^2/n)
 *
 * @param successes  x [-], whole, 0 to trials
 * @param trials  n [-], whole, > 0
 * @param confidence  [-], between 0 and 1
 * @returns limits of the proportion [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Covers its stated share on average over proportions. Source: [Wilson1927]; [Newcombe1998], method 3.
 */
export function wilsonInterval(successes: number, trials: number, confidence = 0.95) {
  requireSample('wilsonInterval', successes, trials);
  requireConfidence('wilsonInterval', confidence);
  const z = normalQuantile((1 + confidence) / 2);
  const p = successes / trials;
  const spread = (z * z) / trials;
  const centre = (p + spread / 2) / (1 + spread);
  const half = (z * Math.sqrt((p * (1 - p)) / trials + spread / (4 * trials))) / (1 + spread);
  return {
    low: successes === 0 ? 0 : centre - half,
    high: successes === trials ? 1 : centre + half,
  };
}

/**
 * Exact limits for a proportion of which a sample was counted.
 *
 *   low = beta(alpha/2; x, n - x + 1),  high = beta(1 - alpha/2; x + 1, n - x)
 *
 * @param successes  x [-], whole, 0 to trials
 * @param trials  n [-], whole, > 0
 * @param confidence  1 - alpha [-], between 0 and 1
 * @returns limits of the proportion [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Never covers less than stated, so it is wide. Source: [ClopperPearson1934]; [Newcombe1998], method 5.
 */
export function exactProportionInterval(successes: number, trials: number, confidence = 0.95) {
  requireSample('exactProportionInterval', successes, trials);
  requireConfidence('exactProportionInterval', confidence);
  const tail = (1 - confidence) / 2;
  return {
    low: successes === 0 ? 0 : betaQuantile(tail, successes, trials - successes + 1),
    high: successes === trials ? 1 : betaQuantile(1 - tail, successes + 1, trials - successes),
  };
}

/**
 * Highest proportion that would still let a sample show none, so often as the confidence leaves.
 *
 *   1 - (1 - confidence)^(1/n), about 3/n at 95 %
 *
 * @param trials  n [-], whole, > 0
 * @param confidence  one-sided [-], between 0 and 1
 * @returns upper limit of the proportion [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Source: [ClopperPearson1934], one-sided, solved for x = 0.
 */
export function upperLimitWhenNoneFound(trials: number, confidence = 0.95): number {
  requireSample('upperLimitWhenNoneFound', 0, trials);
  requireConfidence('upperLimitWhenNoneFound', confidence);
  return -Math.expm1(Math.log1p(-confidence) / trials);
}

function requireSample(functionName: string, successes: number, trials: number): void {
  requireCount(functionName, 'successes', successes);
  requireCount(functionName, 'trials', trials);
  if (!(trials > 0)) refuse(functionName, 'trials must be > 0', trials);
  if (!(successes <= trials)) {
    refuse(functionName, `successes must be at most trials (${trials})`, successes);
  }
}
