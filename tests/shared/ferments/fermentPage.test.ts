import { expect, test } from 'vitest';
import { hourMs } from '#shared/durations.ts';
import { fermentModels } from '#shared/ferments/fermentModels.ts';
import { fermentPage } from '#shared/ferments/fermentPage.ts';
import type { PastCandidate } from '#shared/ferments/housePast.ts';
import { chilled, hoursIn, pitchedAt, someFerment } from './someFerment.ts';

const usual = { halfTimeHours: 27, ratePerHour: 0.11, originalGravitySg: 1.04 };
const past = Array.from(
  { length: 12 },
  (_, i): PastCandidate => ({
    generation: 2 + (i % 4),
    ferment: {
      ...usual,
      beer: i < 5 ? 'Headland Bitter' : 'Groyne Mild',
      halfTimeHours: 26 + (i % 3),
      endGravitySg: 1.01,
    },
  }),
);
/** P(t) = Pe + (Pi - Pe) / (1 + exp(b(t - M))): 10 + 31.5 / (1 + exp(0.11 (t - 27.5))) degrees. */
const sound = (hours: number) => 1 + (10 + 31.5 / (1 + Math.exp(0.11 * (hours - 27.5)))) / 1000;
const view = (hours: number, candidates = past) => ({
  nowMs: pitchedAt + hours * hourMs,
  past: candidates,
  models: fermentModels,
});
const readAt = (hours: number[], late = 0) =>
  hours.map((hour) => ({ hours: hour, gravitySg: sound(hour - late) }));

test('a sound ferment is on course, and its band says what it rests on', () => {
  const page = fermentPage(someFerment(readAt([8, 20, 31])), view(32));
  expect(page.flag.status).toBe('on course');
  expect(page.band).toMatchObject({ basis: 'own ferments', pastFerments: 12, ofThisBeer: 5 });
  expect(page.result).toBe(null);
  for (const { gravitySg, expected } of page.gravities) {
    expect(gravitySg).toBeLessThan((expected?.high ?? 0) + 0.001);
    expect(gravitySg).toBeGreaterThan((expected?.low ?? 2) - 0.001);
  }
});

test('a ferment held up by 15 h is slow, says so with its first cause, and foretells its end', () => {
  const ferment = someFerment([...readAt([8, 20, 31], 15), { hours: 1, cellsPerMl: 3.75e6 }]);
  const { flag, running } = fermentPage(ferment, view(32));
  expect(flag.status).toBe('slow');
  expect(flag.why).toMatch(
    /above what is usual by now.*Check first: living yeast pitched, 4\d % of what was wanted \(should be at least 80 %/,
  );
  expect(Math.abs((running?.hoursBehind ?? 0) - 15)).toBeLessThan(3);
  const { low = 0, mid = 0, high = 0 } = running?.predictedHoursToRacking ?? {};
  expect(low).toBeLessThan(mid);
  expect(mid).toBeLessThan(high);
});

test('a ferment not read for more than a day asks for a gravity', () => {
  const { flag } = fermentPage(someFerment(readAt([8, 20])), view(46));
  expect(flag.status).toBe('no reading');
  expect(flag.why).toBe('Last read at hour 20: take a gravity.');
});

test('a slow ferment that is not read any more asks for a gravity too', () => {
  const whyAt = (hours: number) =>
    fermentPage(someFerment(readAt([8, 20, 31], 15)), view(hours)).flag.why;
  expect(whyAt(32)).not.toMatch(/take a gravity/);
  expect(whyAt(60)).toMatch(/Not read for 29 h: take a gravity\.$/);
});

test('with no ferment finished the band rests on published figures, is wider, and says so', () => {
  const widthOf = (candidates: PastCandidate[]) => {
    const { band } = fermentPage(someFerment(readAt([8])), view(10, candidates));
    const { low = 0, high = 0 } = band?.points.find(({ hours }) => hours === 30) ?? {};
    return { basis: band?.basis, degrees: (high - low) * 1000 };
  };
  const [none, twelve] = [widthOf([]), widthOf(past)];
  expect(none.basis).toBe('published figures');
  expect(none.degrees).toBeGreaterThan(2 * twelve.degrees);
});

test('a chilled ferment gives its fitted curve, attenuation, and strength both ways', () => {
  const readings = readAt([4, 10, 18, 25, 31, 40, 52, 66, 80]);
  const { result, halfTimeHours, band, running } = fermentPage(
    someFerment(readings, { chill: chilled(84) }),
    view(90),
  );
  expect(running).toBe(null);
  expect(result?.curve.kind).toBe('fitted');
  // Half way from 1040 to 1010 on that curve: 15 = 31.5 / (1 + e^z), z = ln 1.1.
  expect(halfTimeHours).toBeCloseTo(27.5 + Math.log(1.1) / 0.11, 2);
  expect(result?.reached?.apparentPercent).toBeCloseTo(75, 0);
  // HMRC: a fall of 29.9 or 30.0 degrees has the factor 0.129 [HMRC226].
  expect(result?.reached?.abvHmrcPercent).toBeCloseTo(3.86, 1);
  expect(band?.points.some(({ fittedSg }) => fittedSg !== null)).toBe(true);
});

test('a chilled ferment with few readings gives crossing times only, and says so', () => {
  const ferment = someFerment(readAt([24, 32, 60, 70]), { chill: chilled(72) });
  const { result } = fermentPage(ferment, view(80));
  expect(result?.curve).toMatchObject({ kind: 'crossings', why: 'fewer than 6 readings' });
  expect(result?.curve.derived.halfTimeHours?.standardError).toBe(undefined);
});

test('odd readings are kept, shown and noted, and the rest goes on', () => {
  const odd = [
    { hours: -2, gravitySg: 1.04 },
    ...readAt([8, 20]),
    { hours: 20, gravitySg: sound(20) },
    { hours: 24, gravitySg: 1.037 },
  ];
  const page = fermentPage(someFerment(odd), view(26));
  expect(page.notes).toEqual([
    { recordId: 'reading-0', message: 'taken before the pitch, left out' },
    { recordId: 'reading-3', message: 'same time as another, averaged' },
    { recordId: 'reading-4', message: 'higher than the reading before it, kept' },
  ]);
  expect(page.gravities).toHaveLength(5);
  expect(page.gravities[0]).toMatchObject({ hours: -2, expected: null });
  expect(page.readings).toHaveLength(5);
});

test('one reading, or none, leaves the page whole', () => {
  expect(fermentPage(someFerment([]), view(2)).flag.status).toBe('too early');
  const one = fermentPage(someFerment(readAt([8]), { chill: chilled(10) }), view(12));
  expect(one.result?.curve).toMatchObject({ kind: 'crossings' });
  const unpitched = fermentPage(someFerment(readAt([8]), { pitches: [] }), view(12));
  expect(unpitched).toMatchObject({ state: 'collected', band: null, result: null });
  expect(unpitched.flag).toEqual({ status: 'no yeast yet', why: 'It waits for its yeast.' });
});

test('a ferment forgotten for half a year has a chart of few points that reaches today', () => {
  const { band } = fermentPage(someFerment(readAt([8])), view(4400));
  expect(band?.points.length).toBeLessThan(125);
  expect(band?.points.at(-1)?.hours).toBeGreaterThanOrEqual(4400);
});

test('fresh yeast is held to the first generations and not to settled ones', () => {
  const [pitch] = someFerment([]).pitches;
  if (pitch === undefined) throw new Error('no pitch');
  const fresh = someFerment(readAt([20]), {
    pitches: [{ ...pitch, generation: 0, happenedAt: hoursIn(0) }],
  });
  const { band } = fermentPage(fresh, view(21));
  expect(band).toMatchObject({ group: 'first generations', basis: 'published figures' });
});
