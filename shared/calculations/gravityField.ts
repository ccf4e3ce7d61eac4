import { type GravityReading, readGravity } from '#shared/gravityEntry.ts';

/** A number given as SG, understood where its meaning is plain: 1040 is 1.040. */
export function sgOf(value: number): GravityReading {
  return readGravity(value, 'sg');
}
