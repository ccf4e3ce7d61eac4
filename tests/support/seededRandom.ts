/** A repeatable source of random numbers for simulations: xorshift of 32 bits, never zero. */
export function seededRandom(seed: number) {
  let state = seed | 0 || 1;

  function uniform(): number {
    let word = 0;
    for (const scale of [2 ** -32, 2 ** -53]) {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      word += (state >>> 0) * scale;
    }
    return word >= 1 ? 1 - 2 ** -53 : word === 0 ? 2 ** -53 : word;
  }

  function normal(mean = 0, sd = 1): number {
    return mean + sd * Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  }

  /** Splits a large mean into halves that are exact sums of Poissons, then multiplies uniforms. */
  function poisson(mean: number): number {
    if (mean > 400) return poisson(mean / 2) + poisson(mean / 2);
    const limit = Math.exp(-mean);
    let count = 0;
    for (let product = uniform(); product > limit; product *= uniform()) count++;
    return count;
  }

  function binomial(trials: number, chance: number): number {
    let successes = 0;
    for (let trial = 0; trial < trials; trial++) if (uniform() < chance) successes++;
    return successes;
  }

  return { uniform, normal, poisson, binomial, logNormal: (sd: number) => Math.exp(normal(0, sd)) };
}
