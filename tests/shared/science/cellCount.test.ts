import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cellConcentration, cellsForTarget } from '#shared/science/cellCount.ts';
import { chamberRuling } from '#shared/science/chambers.ts';
import type { CellCount } from '#shared/science/countSetup.ts';
import { exactPoissonInterval } from '#shared/science/poissonInterval.ts';
import { relativeError } from '../../support/relativeError.ts';

const medium = { squareAreaMm2: 0.04, depthMm: 0.1 };

/** As even as whole cells allow, so that no count is clumped by accident. */
function evenly(cells: number, squares: number): number[] {
  return Array.from({ length: squares }, (_, i) => Math.floor((cells + i) / squares));
}

// Worked by hand from N DF / (n A d 1e-3).
test('187 cells in 5 medium squares at 100 are 9.35e8 cells/mL', () => {
  const fillings = [{ squares: evenly(187, 5), dilutionFactor: 100 }];
  expect(relativeError(cellConcentration({ ...medium, fillings }).cellsPerMl, 9.35e8)).toBeLessThan(
    1e-12,
  );
});

test('212 cells in the whole centre square at 1000 are 2.12e9 cells/mL', () => {
  const { squareAreaMm2 = NaN, depthMm } = chamberRuling('improved Neubauer, large squares');
  const fillings = [{ squares: [212], dilutionFactor: 1000 }];
  const { cellsPerMl } = cellConcentration({ squareAreaMm2, depthMm, fillings });
  expect(relativeError(cellsPerMl, 2.12e9)).toBeLessThan(1e-12);
});

// Data and 6.93E6 quoted in a Master Brewers discussion of cell count error.
test('ten corner squares averaging 43.3 are 6.93e6 cells/mL and clumped', () => {
  const squares = [35, 41, 37, 47, 43, 45, 70, 46, 40, 29];
  const fillings = [{ squares, dilutionFactor: 1 }];
  const found = cellConcentration({ squareAreaMm2: 0.0625, depthMm: 0.1, fillings });
  expect(found.cellsPerMl).toBeCloseTo(6.928e6, 3);
  expect(found.dispersion?.clumped).toBe(true);
  const counting = found.budget.find(({ part }) => part === 'counting')?.relativeVariance;
  expect(counting).toBeCloseTo(24.62 / 9 / 433, 5);
});

test('countingOnly gives the bare limits of Garwood, clumped or not', () => {
  const fillings = [{ squares: [20, 60, 40, 10, 70], dilutionFactor: 10 }];
  const found = cellConcentration({ ...medium, fillings, countingOnly: true });
  const { low, high } = exactPoissonInterval(200);
  expect(relativeError(found.low / found.cellsPerMl, low / 200)).toBeLessThan(1e-12);
  expect(relativeError(found.high / found.cellsPerMl, high / 200)).toBeLessThan(1e-12);
  expect(found.budget).toEqual([{ part: 'counting', relativeVariance: 1 / 200 }]);
});

// CV % = 100 sqrt(1/N + .046^2/chambers + .047^2/pipettings), Berkson, Magath & Hurn 1939, from memory
// (their counting term 0.92^2/N is taken as 1/N, chance alone).
test('two fillings of two dilutions and 400 cells have the remembered error', () => {
  const squares = evenly(200, 5);
  const fillings = [0, 1].map((dilution) => ({ squares, dilutionFactor: 100, dilution }));
  const { logSd } = cellConcentration({ ...medium, fillings });
  expect(logSd).toBeCloseTo(Math.sqrt(1 / 400 + 0.046 ** 2 / 2 + 0.047 ** 2 / 2), 12);
});

test('fillings from one dilution share its pipetting error', () => {
  const filling = { squares: evenly(200, 5), dilutionFactor: 100 };
  const found = cellConcentration({ ...medium, fillings: [filling, filling] });
  const pipetting = found.budget.find(({ part }) => part === 'pipetting')?.relativeVariance;
  expect(pipetting).toBeCloseTo(0.047 ** 2, 12);
  expect(found.sides).toMatchObject({ ratio: 1, disagree: false });
});

test('an undiluted sample has no pipetting error, two steps have twice', () => {
  const variance = (dilutionFactor: number, pipettingSteps?: number) => {
    const fillings = [{ squares: evenly(200, 5), dilutionFactor }];
    const { budget } = cellConcentration({ ...medium, fillings, pipettingSteps });
    return budget.find(({ part }) => part === 'pipetting')?.relativeVariance ?? NaN;
  };
  expect(variance(1)).toBe(0);
  expect(variance(100, 2)).toBeCloseTo(2 * variance(100), 12);
});

test('fillings far apart widen the interval and are named', () => {
  const apart = [150, 250].map((cells) => ({ squares: evenly(cells, 5), dilutionFactor: 100 }));
  const alike = [199, 201].map((cells) => ({ squares: evenly(cells, 5), dilutionFactor: 100 }));
  const wide = cellConcentration({ ...medium, fillings: apart });
  const narrow = cellConcentration({ ...medium, fillings: alike });
  expect(wide.high / wide.low).toBeGreaterThan(narrow.high / narrow.low);
  expect(wide.sides?.disagree).toBe(true);
  expect(wide.budget.map(({ part }) => part)).toContain('between fillings');
  expect(narrow.budget.map(({ part }) => part)).not.toContain('between fillings');
});

test('no cell found gives 0 with the exact upper limit', () => {
  const fillings = [{ squares: [0, 0, 0, 0, 0], dilutionFactor: 10 }];
  const found = cellConcentration({ ...medium, fillings });
  expect(found).toMatchObject({ cellsPerMl: 0, low: 0, cellsCounted: 0, budget: [] });
  expect(found.logSd).toBeUndefined();
  expect(relativeError(found.high, (3.68887945411394 * 10) / 2e-5)).toBeLessThan(1e-12);
});

test('a count that reaches cellsForTarget(…) is as narrow as asked, one cell less is not', () => {
  const start: CellCount = { ...medium, fillings: [{ squares: [20, 20], dilutionFactor: 50 }] };
  const further = cellsForTarget({ ...start, targetRelativeHalfWidth: 0.2 }) ?? NaN;
  const reached = (cells: number) => {
    const fillings = [{ squares: evenly(cells, 2), dilutionFactor: 50 }];
    const { high, cellsPerMl } = cellConcentration({ ...start, fillings });
    return high / cellsPerMl - 1;
  };
  expect(reached(40 + further)).toBeLessThanOrEqual(0.2);
  expect(reached(40 + further - 1)).toBeGreaterThan(0.2);
});

test('cellsForTarget(…) is undefined when chamber and pipetting alone exceed it', () => {
  const start = { ...medium, fillings: [{ squares: evenly(400, 5), dilutionFactor: 100 }] };
  expect(cellsForTarget({ ...start, targetRelativeHalfWidth: 0.1 })).toBeUndefined();
  expect(cellsForTarget({ ...start, targetRelativeHalfWidth: 0.5 })).toBe(0);
});

// 400 cells are within 10.3 % upwards: Garwood 441.19 / 400.
test('cellsForTarget(…) by counting alone follows the exact limits', () => {
  const start = {
    ...medium,
    countingOnly: true,
    fillings: [{ squares: [100], dilutionFactor: 1 }],
  };
  const target = 441.186648096676 / 400 - 1 + 1e-9;
  expect(cellsForTarget({ ...start, targetRelativeHalfWidth: target })).toBe(300);
});

// 10 and 90 cells: X^2 = 2 × 40² / 50 = 64 on one degree of freedom, so 64 cells weigh as one. The
// weight of 400 that Garwood's limit asks for is then 25,600 cells, of which 100 are counted.
test('cellsForTarget(…) asks for more cells where they lie in clumps', () => {
  const start = {
    ...medium,
    errors: { chamberCv: 0, pipettingCv: 0 },
    fillings: [{ squares: [10, 90], dilutionFactor: 1 }],
  };
  const target = 441.186648096676 / 400 - 1 + 1e-9;
  expect(cellsForTarget({ ...start, targetRelativeHalfWidth: target })).toBe(25_500);
});

test('concentration scales with dilution and against volume, in any order of squares', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 200 }), { minLength: 1, maxLength: 25 }),
      fc.double({ min: 1, max: 1e4, noNaN: true }),
      (squares, dilutionFactor) => {
        const count = (change: object) =>
          cellConcentration({ ...medium, fillings: [{ squares, dilutionFactor, ...change }] });
        const { cellsPerMl, low, high } = count({});
        expect(count({ dilutionFactor: 2 * dilutionFactor }).cellsPerMl).toBe(2 * cellsPerMl);
        expect(count({ squares: squares.toReversed() }).high).toBeCloseTo(high, 0);
        expect(low).toBeLessThanOrEqual(cellsPerMl);
        expect(high).toBeGreaterThan(cellsPerMl);
      },
    ),
  );
});

test('cellConcentration(…) refuses a count that cannot be', () => {
  const of = (change: Partial<CellCount>) => () =>
    cellConcentration({ ...medium, fillings: [{ squares: [9], dilutionFactor: 1 }], ...change });
  expect(of({ depthMm: 0 })).toThrow('depthMm must be > 0, got 0');
  expect(of({ squareAreaMm2: NaN })).toThrow(RangeError);
  expect(of({ fillings: [] })).toThrow(RangeError);
  expect(of({ fillings: [{ squares: [], dilutionFactor: 1 }] })).toThrow(RangeError);
  expect(of({ fillings: [{ squares: [1.5], dilutionFactor: 1 }] })).toThrow(RangeError);
  expect(of({ fillings: [{ squares: [1], dilutionFactor: 0.5 }] })).toThrow(
    'dilutionFactor must be >= 1, got 0.5',
  );
});
