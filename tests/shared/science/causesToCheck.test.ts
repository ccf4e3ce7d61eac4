import { expect, test } from 'vitest';
import { causeNames, causesToCheck, fanAt1040 } from '#shared/science/causesToCheck.ts';

const good = Object.freeze({
  originalGravitySg: 1.04,
  viablePitchRatio: 1,
  oxygenMgPerL: 9,
  zincMgPerL: 0.12,
  fanMgPerL: 180,
  setTempC: 16.5,
  tempC: 17,
  viability: 0.95,
  storageDays: 2,
});

const findings = (record: Parameters<typeof causesToCheck>[0]) =>
  causesToCheck(record).map(({ cause, finding }) => `${cause} ${finding}`);

test('causesToCheck(record) finds nothing outside its limit in a sound record', () => {
  expect(findings(good)).toEqual(causeNames.map((cause) => `${cause} within`));
});

test('causesToCheck(record) puts what is outside first, then what nobody measured', () => {
  const found = findings({
    ...good,
    viablePitchRatio: 0.5,
    oxygenMgPerL: 5,
    zincMgPerL: undefined,
  });
  expect(found.slice(0, 3)).toEqual([
    'viable pitch outside',
    'oxygen outside',
    'zinc not recorded',
  ]);
  expect(found).toHaveLength(causeNames.length);
});

test('causesToCheck(record) counts a figure at its limit as within', () => {
  const atLimit = { ...good, oxygenMgPerL: 8, tempC: 15.5, fanMgPerL: 160, storageDays: 7 };
  expect(findings(atLimit).every((finding) => finding.endsWith('within'))).toBe(true);
});

test('causesToCheck(record) gives the figure on record, the limit and the evidence', () => {
  const [first] = causesToCheck({ ...good, tempC: 13.5 });
  expect(first).toMatchObject({
    cause: 'temperature',
    recorded: 3,
    limit: 1,
    side: 'at most',
    evidence: 'from memory',
  });
});

test('fanAt1040(fan, gravity) of 190 mg/L at 1048 is 158.3, under the published 160', () => {
  expect(fanAt1040(190, 1.048)).toBeCloseTo(158.333333, 6);
  expect(() => fanAt1040(190, 1)).toThrow('excess degrees must be > 0, got 0');
  expect(() => fanAt1040(-1, 1.048)).toThrow('fanMgPerL must be >= 0, got -1');
  const [first] = causesToCheck({ ...good, fanMgPerL: 190, originalGravitySg: 1.048 });
  expect(first?.cause).toBe('free amino nitrogen');
});
