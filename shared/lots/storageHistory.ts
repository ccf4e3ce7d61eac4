import type { StoragePart } from '#shared/science/storage.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';

/**
 * The yeast's own temperatures between two moments: each reading holds until the next one. Before
 * the first reading the warm end of the strain's store band is assumed.
 */
export function storageHistory(
  readings: readonly Recorded<'storeReading'>[],
  strain: Pick<StrainView, 'storeHighC'>,
  { fromMs, toMs }: { fromMs: number; toMs: number },
): StoragePart[] {
  const points = readings
    .map((reading) => ({ atMs: Date.parse(reading.happenedAt), tempC: reading.tempC }))
    .sort((a, b) => a.atMs - b.atMs);
  const before = points.filter((point) => point.atMs <= fromMs).at(-1);
  const inside = points.filter((point) => point.atMs > fromMs && point.atMs < toMs);
  const steps = [{ atMs: fromMs, tempC: before?.tempC ?? strain.storeHighC }, ...inside];
  return steps.flatMap((step, index) => {
    const endMs = steps[index + 1]?.atMs ?? toMs;
    const hours = (endMs - step.atMs) / hourMs;
    return hours > 0 ? [{ hours, tempC: step.tempC }] : [];
  });
}
