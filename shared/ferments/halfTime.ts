type Point = { hours: number; gravitySg: number };

/**
 * Hours from pitching at which the gravity first crossed a level, by straight line between the
 * readings on either side.
 *
 * @param points  readings in order of time, gravity [SG]
 * @returns undefined when the readings do not span the level
 */
export function crossingHours(points: readonly Point[], levelSg: number): number | undefined {
  for (const [index, later] of points.entries()) {
    const earlier = points[index - 1];
    if (earlier === undefined || earlier.gravitySg < levelSg || later.gravitySg > levelSg) continue;
    const fall = earlier.gravitySg - later.gravitySg;
    if (fall === 0) return earlier.hours;
    const share = (earlier.gravitySg - levelSg) / fall;
    return earlier.hours + share * (later.hours - earlier.hours);
  }
  return undefined;
}
