import { expect, test } from 'vitest';
import { rackingWords } from '../../web/components/ferments/fermentWords.ts';

const running = (low?: number, mid?: number, high?: number) => ({
  rackingGravitySg: 1.013,
  predictedHoursToRacking: { low, mid, high },
});

test('a ferment that nobody has read is never said to have reached its racking gravity', () => {
  expect(rackingWords({ latestGravitySg: null, running: running(0, 0, 12) })).toEqual({
    value: 'perhaps by now',
    range: 'now to 12 h: read it',
  });
  expect(rackingWords({ latestGravitySg: 1.016, running: running(0, 0) }).value).toBe(
    'perhaps by now',
  );
});

test('the racking gravity is reached once it has been read, and the reading is named', () => {
  expect(rackingWords({ latestGravitySg: 1.013, running: running(0, 0, 0) })).toEqual({
    value: 'reached',
    range: '1013 read',
  });
});

test('hours to the racking gravity begin at now, and may never end', () => {
  expect(rackingWords({ latestGravitySg: 1.016, running: running(0, 11) })).toEqual({
    value: 'in 11 h',
    range: 'now to never',
  });
  expect(rackingWords({ latestGravitySg: 1.016, running: running() }).value).toBe('perhaps never');
});
