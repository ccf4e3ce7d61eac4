import type { GravityReading } from './fermentReadings.ts';

/**
 * First time at which the gravity fell to a level, on straight lines between the readings.
 *
 *   t = t1 + (P1 - level) / (P1 - P2) (t2 - t1)
 *
 * @param readings  by time, as `orderedReadings` gives them
 * @param levelSg  the gravity sought [SG]
 * @returns hours since the pitch [h], or undefined when no two readings have it between them
 *
 * As good as the readings are close together. Source: straight-line interpolation.
 */
export function crossingHours(
  readings: readonly GravityReading[],
  levelSg: number,
): number | undefined {
  for (const [place, later] of readings.entries()) {
    if (!(later.gravitySg <= levelSg)) continue;
    const earlier = readings[place - 1];
    if (earlier === undefined) return later.gravitySg === levelSg ? later.hours : undefined;
    const share = (earlier.gravitySg - levelSg) / (earlier.gravitySg - later.gravitySg);
    return earlier.hours + share * (later.hours - earlier.hours);
  }
  return undefined;
}

/**
 * Greatest rate of fall between two readings that follow each other.
 *
 *   (P1 - P2) / (t2 - t1), the greatest
 *
 * @param readings  by time, at different times
 * @returns fall [degrees/h] of excess gravity, or undefined with fewer than two readings
 *
 * A mean over each interval, so lower than the true greatest rate. Source: definition.
 */
export function greatestFallBetweenReadings(
  readings: readonly GravityReading[],
): number | undefined {
  const falls = readings.slice(1).flatMap((later, place) => {
    const earlier = readings[place];
    if (earlier === undefined) return [];
    return [((earlier.gravitySg - later.gravitySg) * 1000) / (later.hours - earlier.hours)];
  });
  return falls.length > 0 ? Math.max(...falls) : undefined;
}
