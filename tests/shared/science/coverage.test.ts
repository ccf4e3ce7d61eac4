import { expect, test } from 'vitest';
import { cellConcentration } from '#shared/science/cellCount.ts';
import { learnedLossRate, priorLossRate } from '#shared/science/lossRate.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { pitchPlan } from '#shared/science/pitch.ts';
import { wilsonInterval } from '#shared/science/proportionInterval.ts';
import { runningBias } from '#shared/science/slurryBias.ts';
import { equivalentDays, predictedViability } from '#shared/science/storage.ts';
import { viabilityFromStain } from '#shared/science/viability.ts';
import { seededRandom } from '../../support/seededRandom.ts';

/**
 * Each figure below is the share of seeded trials in which the 95 % interval held the truth the trial
 * was made with. The chamber and pipetting errors of Berkson, Magath & Hurn 1939 are from memory.
 */
function coverage(trials: number, holdsTruth: () => boolean): number {
  let held = 0;
  for (let trial = 0; trial < trials; trial++) if (holdsTruth()) held++;
  return held / trials;
}

const holds = ({ low, high }: { low: number; high: number }, truth: number) =>
  low <= truth && truth <= high;
const CHAMBER = 0.046;
const PIPETTING = 0.047;

/** Fillings of a sample whose squares hold so many cells on average, drawn from its dilutions. */
function countedSample(
  random: ReturnType<typeof seededRandom>,
  { fillings, dilutions, cellsPerSquare }: Record<string, number> & { cellsPerSquare: number },
) {
  const dilutionErrors = Array.from({ length: dilutions ?? 1 }, () => random.logNormal(PIPETTING));
  return cellConcentration({
    ...{ squareAreaMm2: 0.04, depthMm: 0.1 },
    fillings: Array.from({ length: fillings ?? 1 }, (_, i) => {
      const dilution = i % dilutionErrors.length;
      const mean = cellsPerSquare * random.logNormal(CHAMBER) * (dilutionErrors[dilution] ?? 1);
      const squares = Array.from({ length: 5 }, () => random.poisson(mean));
      return { squares, dilutionFactor: 100, dilution };
    }),
  });
}

// Seen: 0.954, 0.963, 0.956, 0.956.
test.each([
  { fillings: 1, dilutions: 1, cellsPerSquare: 40 },
  { fillings: 2, dilutions: 1, cellsPerSquare: 40 },
  { fillings: 2, dilutions: 2, cellsPerSquare: 40 },
  { fillings: 4, dilutions: 2, cellsPerSquare: 20 },
])('a count of $fillings fillings from $dilutions dilutions covers 93 to 97 %', (setup) => {
  const random = seededRandom(1939);
  const truth = (setup.cellsPerSquare * 100) / 4e-6;
  const share = coverage(3000, () => holds(countedSample(random, setup), truth));
  expect(share).toBeGreaterThan(0.93);
  expect(share).toBeLessThan(0.97);
});

// Seen: 0.955. Averaged over viabilities from 85 to 99 %, since a binomial interval steps up and
// down between them.
test('the interval of a stain of 400 cells covers 93 to 97 %', () => {
  const random = seededRandom(1927);
  const share = coverage(6000, () => {
    const viability = 0.85 + 0.14 * random.uniform();
    return holds(wilsonInterval(random.binomial(400, viability), 400), viability);
  });
  expect(share).toBeGreaterThan(0.93);
  expect(share).toBeLessThan(0.97);
});

function measuredLot(
  random: ReturnType<typeof seededRandom>,
  truth: { cells: number; alive: number },
) {
  const cellsPerSquare = (truth.cells / 100) * 4e-6;
  const count = countedSample(random, { fillings: 2, dilutions: 1, cellsPerSquare });
  const live = random.binomial(400, truth.alive);
  const stained = viabilityFromStain({ live, dead: 400 - live, stain: 'methylene blue' });
  const lot: PitchLot = {
    ...{ unit: 'L', cellsPerMl: count.cellsPerMl, concentrationLogSd: count.logSd ?? Number.NaN },
    viability: stained.percent / 100,
    viabilityLogSd: Math.log(stained.high / stained.low) / (2 * 1.959964),
  };
  return lot;
}

// Seen: 0.959 for one lot, 0.961 for the second of two.
test('the amount of one lot and of the second of two cover 93 to 97 %', () => {
  const random = seededRandom(1040);
  const wort = { volumeL: 1636.6, gravityPlato: 10 };
  const needed = 0.75e6 * 10 * 1636.6e3;
  const first = { cells: 1.2e9, alive: 0.94 };
  const second = { cells: 0.9e9, alive: 0.9 };
  let pairsHeld = 0;
  const alone = coverage(3000, () => {
    const lot = measuredLot(random, first);
    const other = measuredLot(random, second);
    const plan = (lots: PitchLot[]) =>
      pitchPlan({ wort, rateMillionPerMlPerPlato: 0.75, lots }).lots;
    const inSecond =
      (needed - 6e3 * first.cells * first.alive) / (1e3 * second.cells * second.alive);
    const both = plan([{ ...lot, available: 6 }, other])[1];
    if (both !== undefined && holds(both, inSecond)) pairsHeld++;
    const [only] = plan([lot]);
    return only !== undefined && holds(only, needed / (1e3 * first.cells * first.alive));
  });
  for (const share of [alone, pairsHeld / 3000]) {
    expect(share).toBeGreaterThan(0.93);
    expect(share).toBeLessThan(0.97);
  }
});

// Seen: 0.942. Rates and spreads of lots drawn from what is believed before: the interval is a share
// of breweries.
test('the learned loss rate covers 93 to 97 % of breweries', () => {
  const random = seededRandom(1985);
  const share = coverage(2000, () => {
    const perDay = priorLossRate.perDay * random.logNormal(priorLossRate.logSd);
    const lotSpread = Math.abs(random.normal(0, 0.3));
    const pairs = Array.from({ length: 6 }, () => {
      const equivalentDays = 3 + 12 * random.uniform();
      const alive = 0.93 + 0.06 * random.uniform();
      const survival = Math.exp(-perDay * random.logNormal(lotSpread) * equivalentDays);
      const firstLive = random.binomial(400, alive);
      const laterLive = random.binomial(400, alive * survival);
      return {
        ...{ equivalentDays, firstLive, firstDead: 400 - firstLive },
        ...{ laterLive, laterDead: 400 - laterLive },
      };
    });
    return holds(learnedLossRate(pairs).learned, perDay);
  });
  expect(share).toBeGreaterThan(0.93);
  expect(share).toBeLessThan(0.97);
});

// Seen: 0.949. The stain is read anew in each trial, and the loss of each lot drawn from what is
// believed of it.
test('the viability predicted after a time in store covers 93 to 97 %', () => {
  const random = seededRandom(1889);
  const share = coverage(4000, () => {
    const alive = 0.9 + 0.08 * random.uniform();
    const history = [{ hours: 24 + 120 * random.uniform(), tempC: 2 + 6 * random.uniform() }];
    const perDay = priorLossRate.perDay * random.logNormal(priorLossRate.logSd);
    const truth = 100 * alive * Math.exp(-perDay * equivalentDays(history));
    const live = random.binomial(400, alive);
    const stained = viabilityFromStain({ live, dead: 400 - live, stain: 'methylene blue' });
    return holds(predictedViability(stained, history), truth);
  });
  expect(share).toBeGreaterThan(0.93);
  expect(share).toBeLessThan(0.97);
});

// Seen: 0.948, 0.949, 0.953. Spreads between batches drawn from what is believed before.
test.each([3, 5, 10])('the bias of %i pitches covers 93 to 97 % of breweries', (pairs) => {
  const random = seededRandom(2001);
  const share = coverage(1200, () => {
    const batchSpread = Math.abs(random.normal(0, 0.15));
    const bias = runningBias(
      Array.from({ length: pairs }, () => ({
        ...{ expectedPerMl: 7e6 * random.logNormal(0.08), expectedLogSd: 0.08 },
        foundPerMl: 7e6 * 0.85 * random.logNormal(batchSpread) * random.logNormal(0.09),
        foundLogSd: 0.09,
      })),
    );
    return bias !== undefined && holds(bias, 0.85);
  });
  expect(share).toBeGreaterThan(0.93);
  expect(share).toBeLessThan(0.97);
});

// Seen: 0.953 at 5 pairs, 0.943 at 10.
test.each([5, 10])('the bias of %i pitches that differ by 10 % covers 93 to 97 %', (pairs) => {
  const random = seededRandom(2001);
  const share = coverage(1200, () => {
    const bias = runningBias(
      Array.from({ length: pairs }, () => ({
        ...{ expectedPerMl: 7e6 * random.logNormal(0.08), expectedLogSd: 0.08 },
        foundPerMl: 7e6 * 0.85 * random.logNormal(0.1) * random.logNormal(0.09),
        foundLogSd: 0.09,
      })),
    );
    return bias !== undefined && holds(bias, 0.85);
  });
  expect(share).toBeGreaterThan(0.93);
  expect(share).toBeLessThan(0.97);
});
