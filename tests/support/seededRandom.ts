/** A repeatable source of random numbers for simulations. Seeds that are near give unlike streams. */
export function seededRandom(seed: number) {
  const word = smallFastCounter(seed);

  /** 52 random bits, each in the middle of its step: never 0, never 1. */
  function uniform(): number {
    return (word() * 2 ** 20 + (word() >>> 12) + 0.5) * 2 ** -52;
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

/** Whole numbers of 32 bits by the sfc32 of Doty-Humphrey; the first ones only stir the seed in. */
function smallFastCounter(seed: number): () => number {
  let a = 0x9e3779b9;
  let b = 0x243f6a88;
  let c = 0xb7e15162;
  let counter = seed | 0;
  const next = () => {
    const sum = (a + b + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + sum) | 0;
    return sum >>> 0;
  };
  for (let stir = 0; stir < 16; stir++) next();
  return next;
}
