export type Seeded = ReturnType<typeof seeded>;

/**
 * A repeatable source of chance for one thing, named by a label: what is drawn for one gyle never
 * depends on how much was drawn for another.
 */
export function seeded(label: string) {
  let state = 2_166_136_261;
  for (const character of label)
    state = Math.imul(state ^ (character.codePointAt(0) ?? 0), 16_777_619);

  /** Above 0 and below 1. */
  function uniform(): number {
    state = (state + 0x9e3779b9) | 0;
    let word = Math.imul(state ^ (state >>> 16), 0x21f0aaad);
    word = Math.imul(word ^ (word >>> 15), 0x735a2d97);
    return (((word ^ (word >>> 15)) >>> 0) + 0.5) / 2 ** 32;
  }

  const between = (low: number, high: number) => low + uniform() * (high - low);

  const normal = (mean: number, sd: number) =>
    mean + sd * Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());

  /** For means up to a few hundred. */
  function poisson(mean: number): number {
    const limit = Math.exp(-mean);
    let events = 0;
    for (let product = uniform(); product > limit; product *= uniform()) events += 1;
    return events;
  }

  function binomial(trials: number, chance: number): number {
    let successes = 0;
    for (let trial = 0; trial < trials; trial += 1) if (uniform() < chance) successes += 1;
    return successes;
  }

  function pick<T>(first: T, ...others: readonly T[]): T {
    return others[Math.floor(uniform() * (others.length + 1)) - 1] ?? first;
  }

  const byte = () => Math.floor(uniform() * 256);

  return { uniform, between, normal, poisson, binomial, pick, byte };
}
