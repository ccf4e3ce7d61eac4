import { expect, test } from 'vitest';
import { flagLine, LOOKS } from '#shared/science/flagLine.ts';
import { degreesAt, plausibleFerments } from '#shared/science/plausibleFerments.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const pace = {
  lnHalfTime: { centre: Math.log(27), scale: 0.09, degreesOfFreedom: 20 },
  lnRate: { centre: Math.log(0.11), scale: 0.16, degreesOfFreedom: 20 },
  logitAttenuation: { centre: Math.log(3), scale: 0.08, degreesOfFreedom: 20 },
  correlation: 0,
};
const healthy = plausibleFerments(pace, 42);
const rule = { readingSdDegrees: 0.6, falseAlarmRate: 0.05 };

test('flagLine(healthy, rule) is crossed by the stated share of ferments it was made for', () => {
  const line = flagLine(healthy, rule);
  const random = seededRandom(9);
  const looks: { hours: number; line: number }[] = [];
  for (let hours = 12; hours <= 3.5 * 27; hours += LOOKS.everyHours) {
    looks.push({ hours, line: line.at(hours) });
  }
  let crossed = 0;
  const count = 4000;
  for (let i = 0; i < count; i++) {
    const ferment = healthy[Math.floor(random.uniform() * healthy.length)];
    if (ferment === undefined) throw new Error('no ferment');
    const isAbove = looks.some(
      (look) => 1 + (degreesAt(ferment, look.hours) + random.normal(0, 0.6)) / 1000 > look.line,
    );
    if (isAbove) crossed++;
  }
  console.log('share of the model ferments above the line at any look:', crossed / count);
  // Binomial standard deviation 0.35 %; 1021 ferments set the line to within about 0.7 %.
  expect(crossed / count).toBeGreaterThan(0.03);
  expect(crossed / count).toBeLessThan(0.07);
});

test('flagLine(healthy, rule) spends less on one look than on all of them', () => {
  const { chancePerReading } = flagLine(healthy, rule);
  expect(chancePerReading).toBeLessThan(0.05);
  expect(chancePerReading).toBeGreaterThan(0.05 / 8);
});

test('flagLine(healthy, rule) is higher for fewer false alarms and for poorer readings', () => {
  const at = (change: Partial<typeof rule>) => flagLine(healthy, { ...rule, ...change }).at(36);
  expect(at({ falseAlarmRate: 0.01 })).toBeGreaterThan(at({}));
  expect(at({ readingSdDegrees: 1.5 })).toBeGreaterThan(at({}));
});

test('flagLine(healthy, rule) refuses an error or a rate that is not positive', () => {
  expect(() => flagLine(healthy, { ...rule, readingSdDegrees: 0 })).toThrow(/readingSdDegrees/);
  expect(() => flagLine(healthy, { ...rule, falseAlarmRate: NaN })).toThrow(/falseAlarmRate/);
});
