import type { FermentExpectation, FermentStanding, RunningCourse } from '#shared/views/ferments.ts';
import { duration, fixed, gravity } from '../format.ts';

/** What the band of a ferment rests on. */
export function basisWords(band: FermentExpectation, { strain, record }: FermentStanding): string {
  const { basis, group, pastFerments, ofThisBeer } = band;
  const kind = group === 'settled generations' ? 'settled' : 'first-generation';
  if (basis === 'published figures')
    return `No ${kind} ferment of ${strain.name} is finished yet: the band rests on published figures and is wide.`;
  const many = `${pastFerments} ${kind} ferment${pastFerments === 1 ? '' : 's'} of ${strain.name}`;
  const ours = `${many}, ${ofThisBeer} of them ${record.beer}`;
  return basis === 'pooled'
    ? `The band rests on ${ours}, and on published figures while they are few.`
    : `The band rests on ${ours}.`;
}

/** Hours from now to the racking gravity, with their range; undefined where it may never get there. */
export function rackingWords({ predictedHoursToRacking: { low, mid, high } }: RunningCourse): {
  value: string;
  range: string;
} {
  if (mid === 0) return { value: 'reached', range: '' };
  const until = high === undefined ? 'never' : duration(high);
  const range = low === undefined ? 'it may never get there' : `${duration(low)} to ${until}`;
  return { value: mid === undefined ? 'perhaps never' : `in ${duration(mid)}`, range };
}

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
