import { expect, test } from 'vitest';
import { expectedBand, type FermentBand } from '#shared/science/fermentBand.ts';
import { hoursToProgress } from '#shared/science/fermentProgress.ts';
import type { GravityReading } from '#shared/science/fermentReadings.ts';
import type { PastFerment } from '#shared/science/housePace.ts';
import { degreesAt } from '#shared/science/plausibleFerments.ts';
import { assessRunning, comparedWithBand, usualFlagLine } from '#shared/science/slowFerment.ts';
import { seededRandom } from '../../support/seededRandom.ts';

type Random = ReturnType<typeof seededRandom>;
const ORIGINAL = 42;

/** An invented house strain: half time 27 h +- 8 %, rate 0.11 +- 15 %, attenuation 76 +- 1.2 %. */
function houseFerment(random: Random) {
  return {
    halfTimeHours: 27 * random.logNormal(0.08),
    ratePerHour: 0.11 * random.logNormal(0.15),
    originalDegrees: ORIGINAL,
    endDegrees: ORIGINAL * (1 - random.normal(0.76, 0.012)),
  };
}

function houseBand(random: Random, pastCount = 15): FermentBand {
  const past = Array.from({ length: pastCount }, (): PastFerment => {
    const { endDegrees, ...ferment } = houseFerment(random);
    return { ...ferment, originalGravitySg: 1.042, endGravitySg: 1 + endDegrees / 1000 };
  });
  return expectedBand({ past, target: { originalGravitySg: 1.042 }, confidence: 0.95 });
}

/** Morning and evening readings with an hour or so of play, one in five missed, half a degree of error. */
function read(random: Random, gravityAt: (hours: number) => number): GravityReading[] {
  const readings: GravityReading[] = [];
  for (const planned of [6, 18, 30, 42, 54, 66, 78, 90]) {
    const hours = planned + random.normal(0, 1.5);
    const degrees = gravityAt(hours) + random.normal(0, 0.5);
    if (random.uniform() > 0.2) readings.push({ hours, gravitySg: 1 + degrees / 1000 });
  }
  return readings;
}

/** For the hour at which the true gravity, free of reading error, leaves the band. */
const everyTwoHours = Array.from({ length: 50 }, (_, i) => 2 * i);

type Course = (hours: number) => number;

type Asked = { count: number; seed: number; pastCount?: number };

/** A new brewery, with past ferments of its own, for every fifty running ferments. */
function outcome({ count, seed, pastCount = 15 }: Asked, courseOf: (random: Random) => Course) {
  const random = seededRandom(seed);
  const delays: number[] = [];
  let flagged = 0;
  for (let brewery = 0; brewery < count / 50; brewery++) {
    const band = houseBand(random, pastCount);
    const line = usualFlagLine(band);
    const edges = everyTwoHours.map((hours) => ({ hours, highSg: band.at(hours).high }));
    for (let ferment = 0; ferment < 50; ferment++) {
      const gravityAt = courseOf(random);
      const readings = read(random, gravityAt);
      const flag = readings
        .map((reading) => comparedWithBand(reading, band, line))
        .find(({ isFlagged }) => isFlagged);
      if (flag === undefined) continue;
      flagged++;
      const left = edges.find(({ hours, highSg }) => 1 + gravityAt(hours) / 1000 > highSg);
      if (left !== undefined) delays.push(flag.hours - left.hours);
    }
  }
  delays.sort((a, b) => a - b);
  const at = (share: number) => Math.round(delays[Math.floor(share * delays.length)] ?? NaN);
  return { share: flagged / count, leftBand: delays.length, median: at(0.5), late: at(0.9) };
}

const healthyCourse = (random: Random): Course => {
  const ferment = houseFerment(random);
  return (hours) => degreesAt(ferment, hours);
};

const slowCourses: Record<
  'quarter slower' | 'stuck at 60 %' | 'held up 15 h',
  typeof healthyCourse
> = {
  'quarter slower': (random) => {
    const { halfTimeHours, ratePerHour, ...ends } = houseFerment(random);
    const pace = { halfTimeHours: halfTimeHours * 1.25, ratePerHour: ratePerHour / 1.25 };
    return (hours) => degreesAt({ ...ends, ...pace }, hours);
  },
  'stuck at 60 %': (random) => {
    const ferment = houseFerment(random);
    const stop = ORIGINAL - 0.6 * (ORIGINAL - ferment.endDegrees);
    return (hours) => Math.max(degreesAt(ferment, hours), stop);
  },
  'held up 15 h': (random) => {
    const ferment = houseFerment(random);
    return (hours) => degreesAt(ferment, hours - 15);
  },
};

test('assessRunning(…) flags fewer healthy ferments than the rate it states, of 1,000', () => {
  const few = outcome({ count: 1000, seed: 41 }, healthyCourse);
  const many = outcome({ count: 1000, seed: 45, pastCount: 40 }, healthyCourse);
  console.log('1,000 healthy ferments, share ever flagged', {
    'band of 15 past ferments': few.share,
    'band of 40': many.share,
  });
  // The rule states 5 %; a binomial of 1,000 strays by 0.7 %. Not none, or the line would be idle.
  for (const { share } of [few, many]) {
    expect(share).toBeLessThan(0.05);
    expect(share).toBeGreaterThan(0);
  }
}, 120_000);

test.each([15, 40])(
  'assessRunning(…) catches slow, stuck and late ferments on a band of %i past ferments',
  (pastCount) => {
    const found = Object.entries(slowCourses).map(([kind, courseOf], i) => ({
      kind,
      ...outcome({ count: 300, seed: 42 + i, pastCount }, courseOf),
    }));
    console.log(
      `300 of each kind, ${pastCount} past ferments: share caught, hours from leaving the band to the flag (median, 90 %)`,
      found,
    );
    const [slower, ...others] = found;
    // ln 1.25 is 2.8 standard deviations of this house: who knew its figures exactly would catch 87 % at
    // a rate of 5 %. Half is asked for of a rule that must learn them, and every gross one but a few.
    expect(slower?.share).toBeGreaterThan(0.5);
    for (const { share } of others) expect(share).toBeGreaterThan(0.95);
    // Readings come twice a day and one in five is missed.
    for (const { median } of found) expect(median).toBeLessThan(24);
  },
  120_000,
);

const steady = () => {
  const past = Array.from(
    { length: 12 },
    (): PastFerment => ({
      halfTimeHours: 27,
      ratePerHour: 0.11,
      originalGravitySg: 1.042,
      endGravitySg: 1.01,
    }),
  );
  return expectedBand({ past, target: { originalGravitySg: 1.042 }, confidence: 0.95 });
};
const band = steady();
const rackingGravitySg = 1.0125;
const usual = { halfTimeHours: 27, ratePerHour: 0.11, originalDegrees: 42, endDegrees: 10 };
const readingsOf = (hours: number[], heldUpHours = 0) =>
  hours.map((hour) =>
    Object.freeze({ hours: hour, gravitySg: 1 + degreesAt(usual, hour - heldUpHours) / 1000 }),
  );

test('assessRunning(…) calls a usual ferment on course, and foretells its hours to racking', () => {
  const readings = readingsOf([6, 18, 30, 42]);
  const found = assessRunning({ readings, band, nowHours: 43, rackingGravitySg });
  expect(found).toMatchObject({ status: 'on course', flaggedAtHours: undefined });
  expect(Math.abs(found.behindDegrees ?? NaN)).toBeLessThan(1);
  // The usual ferment reaches 1012.5 when 29.5 of its 32 degrees have gone.
  const hours = hoursToProgress(usual, 29.5 / 32) - 43;
  const { low = NaN, mid = NaN, high = NaN } = found.predictedHoursToRacking;
  expect(Math.abs(mid - hours)).toBeLessThan(3);
  expect(low).toBeLessThan(hours);
  expect(high).toBeGreaterThan(hours);
});

test('assessRunning(…) calls a ferment held up by 15 h slow, about 15 h behind', () => {
  const readings = readingsOf([6, 18, 30, 42], 15);
  const found = assessRunning({ readings, band, nowHours: 43, rackingGravitySg });
  expect(found.status).toBe('slow');
  expect(Math.abs((found.hoursBehind ?? NaN) - 15)).toBeLessThan(2);
  expect(found.sinceHours).toBe(18);
  expect(found.why).toMatch(
    /degrees above what is usual by now, and out of the usual range since hour 18/,
  );
});

test('assessRunning(…) takes the flag back once the ferment has caught up', () => {
  const readings = [...readingsOf([18, 30], 15), ...readingsOf([50], -8)];
  const found = assessRunning({ readings, band, nowHours: 51, rackingGravitySg: 1.005 });
  expect(found.flaggedAtHours).toBe(18);
  expect(found).toMatchObject({ status: 'on course', sinceHours: undefined });
});

test('assessRunning(…) is too early to tell, then misses a reading, then is done', () => {
  const assess = (nowHours: number, hours: number[]) =>
    assessRunning({ readings: readingsOf(hours), band, nowHours, rackingGravitySg }).status;
  expect(assess(4, [])).toBe('too early');
  expect(assess(4, [2])).toBe('too early');
  expect(assess(30, [])).toBe('no reading');
  expect(assess(43, [18])).toBe('no reading');
  expect(assess(43, [18, 30])).toBe('on course');
  expect(assess(80, [18, 30, 75])).toBe('done');
});

test('assessRunning(…) leaves out readings of the future and passes on notes on odd ones', () => {
  const readings = [...readingsOf([18, 90]), { hours: -4, gravitySg: 1.042 }];
  const found = assessRunning({ readings, band, nowHours: 20, rackingGravitySg });
  expect(found.status).toBe('on course');
  expect(found.notes).toEqual([{ index: 2, message: 'taken before the pitch, left out' }]);
});

test('assessRunning(…) does not call slow on remembered figures what one house does in 36 h', () => {
  const wide = expectedBand({ past: [], target: { originalGravitySg: 1.042 }, confidence: 0.95 });
  const slower = { ...usual, halfTimeHours: 36 };
  const readings = [12, 24, 36].map((hours) => ({
    hours,
    gravitySg: 1 + degreesAt(slower, hours) / 1000,
  }));
  const found = assessRunning({ readings, band: wide, nowHours: 37, rackingGravitySg });
  expect(found.status).toBe('on course');
});

test('comparedWithBand(…) tells degrees behind, and what lies on a line is within it', () => {
  const line = usualFlagLine(band);
  const { mid, high } = band.at(30);
  const compared = (gravitySg: number) => comparedWithBand({ hours: 30, gravitySg }, band, line);
  // A thousandth of gravity is a degree.
  expect(compared(mid + 0.004).behindDegrees).toBeCloseTo(4, 9);
  expect(compared(mid - 0.002).behindDegrees).toBeCloseTo(-2, 9);
  expect(compared(high).isOutside).toBe(false);
  expect(compared(high + 1e-9).isOutside).toBe(true);
  expect(compared(line.at(30)).isFlagged).toBe(false);
  expect(compared(line.at(30) + 1e-9).isFlagged).toBe(true);
});

test('assessRunning(…) calls a ferment that was flagged slow while it is above the middle', () => {
  const later = (degreesAbove: number) =>
    assessRunning({
      readings: [
        ...readingsOf([18, 30], 15),
        { hours: 50, gravitySg: band.at(50).mid + degreesAbove / 1000 },
      ],
      ...{ band, nowHours: 51, rackingGravitySg: 1.005 },
    });
  expect(later(0.5).status).toBe('slow');
  expect(later(0).status).toBe('on course');
  expect(later(0).falseAlarmRate).toBe(0.05);
});

test('assessRunning(…) takes a reading of this moment, a day without one, and the racking gravity itself', () => {
  const assess = (nowHours: number, hours: number[], rackingAt = rackingGravitySg) =>
    assessRunning({ readings: readingsOf(hours), band, nowHours, rackingGravitySg: rackingAt });
  expect(assess(43, [18, 43]).status).toBe('on course');
  expect(assess(42, [18]).status).toBe('on course');
  expect(assess(42.1, [18])).toMatchObject({ status: 'no reading', why: 'last read at hour 18' });
  expect(assess(30, [])).toMatchObject({ status: 'no reading', why: 'not read since the pitch' });
  const [last] = readingsOf([60]);
  expect(assess(61, [60], last?.gravitySg).status).toBe('done');
  expect(assess(61, [60], (last?.gravitySg ?? 0) - 1e-9).status).toBe('on course');
});

// The rule states it: neither band nor line is asked before a fall of three degrees is usual.
test('comparedWithBand(…) tells nothing until three degrees should have gone', () => {
  const line = usualFlagLine(band);
  const usualFall = (hours: number) => 42 - 1000 * (band.at(hours).mid - 1);
  const everyTenMinutes = Array.from({ length: 200 }, (_, i) => i / 6);
  const telling = everyTenMinutes.find((hours) => usualFall(hours) >= 3) ?? Number.NaN;
  const tooHigh = (hours: number) => comparedWithBand({ hours, gravitySg: 1.06 }, band, line);
  expect(usualFall(telling - 1 / 6)).toBeGreaterThan(2.8);
  expect(tooHigh(telling)).toMatchObject({ isOutside: true, isFlagged: true });
  expect(tooHigh(telling - 1 / 6)).toMatchObject({ isOutside: false, isFlagged: false });
});

test('assessRunning(…) says how far ahead, and nothing of hours where it cannot', () => {
  const assess = (nowHours: number, hours: number[], rackingAt: number, ahead = 0) =>
    assessRunning({
      ...{ band, nowHours, rackingGravitySg: rackingAt },
      readings: readingsOf(hours, -ahead),
    });
  const early = assess(31, [18, 30], rackingGravitySg, 6);
  expect(early.behindDegrees).toBeLessThan(-1);
  expect(early.why).toMatch(/^\d\.\d degrees below what is usual by now$/);
  // Already there: nothing is left to wait.
  expect(assess(80, [18, 30, 75], rackingGravitySg).predictedHoursToRacking).toEqual({
    ...{ low: 0, mid: 0, high: 0 },
  });
  // 1010 is where this ferment ends: 1005 is never reached, and no usual hour has 1008.
  expect(assess(43, [18, 30, 42], 1.005).predictedHoursToRacking.mid).toBe(undefined);
  const below = assessRunning({
    ...{ band, nowHours: 80, rackingGravitySg: 1.005 },
    readings: [...readingsOf([18, 30]), { hours: 75, gravitySg: 1.008 }],
  });
  expect(below.hoursBehind).toBe(undefined);
});

test('assessRunning(…) refuses a time before the pitch', () => {
  const ask = () => assessRunning({ readings: [], band, nowHours: -1, rackingGravitySg });
  expect(ask).toThrow(/nowHours must be >= 0/);
});
