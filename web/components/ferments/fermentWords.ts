import type { FermentExpectation, FermentStanding, RunningCourse } from '#shared/views/ferments.ts';
import { duration, fixed, gravity } from '../../format.ts';

/** What the band of a ferment rests on. */
export function basisWords(band: FermentExpectation, { strain, record }: FermentStanding): string {
  const { basis, group, pastFerments, ofThisBeer } = band;
  const yeast =
    group === 'settled generations' ? 'settled yeast' : 'fresh culture or its first crop';
  if (basis === 'published figures')
    return `No ferment of ${strain.name} with ${yeast} is finished yet: the band rests on published figures and is wide.`;
  const many = `${pastFerments} ferment${pastFerments === 1 ? '' : 's'} of ${strain.name} with ${yeast}`;
  const ours = `${many}, ${ofThisBeer} of them ${record.beer}`;
  return basis === 'pooled'
    ? `The band rests on ${ours}, and on published figures while they are few.`
    : `The band rests on ${ours}.`;
}

type Racking = Pick<FermentStanding, 'latestGravitySg'> & {
  running: Pick<RunningCourse, 'predictedHoursToRacking' | 'rackingGravitySg'>;
};

/** Hours from now to the racking gravity, with their range; reached only once it has been read. */
export function rackingWords({ running, latestGravitySg }: Racking): {
  value: string;
  range: string;
} {
  const { predictedHoursToRacking, rackingGravitySg } = running;
  const { low, mid, high } = predictedHoursToRacking;
  if (latestGravitySg !== null && latestGravitySg <= rackingGravitySg)
    return { value: 'reached', range: `${gravity(latestGravitySg)} read` };
  const until = high === undefined ? 'never' : fromNow(high);
  const range = low === undefined ? 'it may never get there' : `${fromNow(low)} to ${until}`;
  if (mid === undefined) return { value: 'perhaps never', range };
  return mid === 0
    ? { value: 'perhaps by now', range: `${range}: read it` }
    : { value: `in ${duration(mid)}`, range };
}

const fromNow = (hours: number) => (hours === 0 ? 'now' : duration(hours));

/** The course of a gravity in a sentence, for those who cannot see the chart. */
export function findingWords({ latestGravitySg, record, running }: FermentStanding): string {
  if (latestGravitySg === null) return 'No gravity has been read since the pitch.';
  const fall = `From ${gravity(record.originalGravitySg)} to ${gravity(latestGravitySg)}`;
  if (running?.behindDegrees === undefined) return `${fall}.`;
  const side = running.behindDegrees > 0 ? 'above' : 'below';
  const far = `${fixed(Math.abs(running.behindDegrees), 1)} degrees ${side} the middle of the band`;
  const hours = running.hoursBehind;
  if (hours === undefined || Math.abs(hours) < 1) return `${fall}, ${far}.`;
  return `${fall}, ${far}: about ${duration(Math.abs(hours))} ${hours > 0 ? 'behind' : 'ahead'}.`;
}
