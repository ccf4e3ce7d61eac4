import { crossingHours, greatestFallBetweenReadings } from './crossingTimes.ts';
import type { Estimate } from './deltaMethod.ts';
import { type FermentFigures, PLAIN_LAG_DEGREES } from './fermentFigures.ts';
import type { GravityReading } from './fermentReadings.ts';

/** A ferment has come to rest when its gravity fell no more than this over at least these hours. */
const AT_REST = { degrees: 1, hours: 8 } as const;

/**
 * The figures of a ferment that too few readings describe: measured crossing times only.
 *
 *   straight lines between readings; the end gravity is the last one once the fall has stopped
 *
 * @param readings  by time, as `orderedReadings` gives them
 * @param originalGravitySg  original gravity [SG] where measured; else the first reading stands for it
 * @returns the figures seen, without standard errors
 *
 * Source: straight-line interpolation; rest is common practice, no source.
 */
export function fermentCrossings(
  readings: readonly GravityReading[],
  originalGravitySg?: number,
): FermentFigures {
  const fromSg = originalGravitySg ?? readings[0]?.gravitySg;
  if (fromSg === undefined) return {};
  const found: FermentFigures = {};
  const note = (name: keyof FermentFigures, value: number | undefined) => {
    const estimate: Estimate | undefined = value === undefined ? undefined : { value };
    if (estimate !== undefined) found[name] = estimate;
  };
  const at = (levelSg: number) => crossingHours(readings, levelSg);
  note('plainLagHours', at(fromSg - PLAIN_LAG_DEGREES / 1000));
  note('greatestRateDegreesPerHour', greatestFallBetweenReadings(readings));
  const passed1040 = at(1.04);
  const passed1020 = at(1.02);
  if (passed1040 !== undefined && passed1020 !== undefined) {
    note('hours1040to1020', passed1020 - passed1040);
  }
  const endSg = gravityAtRest(readings);
  if (endSg !== undefined) {
    note('endGravitySg', endSg);
    note('halfTimeHours', at((fromSg + endSg) / 2));
    note('timeToWithinOneDegreeHours', at(endSg + 0.001));
  }
  return found;
}

function gravityAtRest(readings: readonly GravityReading[]): number | undefined {
  const last = readings.at(-1);
  const greatest = readings[0];
  if (last === undefined || greatest === undefined) return undefined;
  if (!(greatest.gravitySg - last.gravitySg > (4 * AT_REST.degrees) / 1000)) return undefined;
  const rested = readings.some(
    ({ hours, gravitySg }) =>
      last.hours - hours >= AT_REST.hours &&
      gravitySg - last.gravitySg <= AT_REST.degrees / 1000 + 1e-9,
  );
  return rested ? last.gravitySg : undefined;
}
