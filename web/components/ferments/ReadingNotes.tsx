import type { FermentDetail, FermentStanding } from '#shared/views/ferments.ts';
import { gravity, moment } from '../../format.ts';

type Props = { notes: FermentDetail['notes']; ferment: FermentStanding };

/** Gravities that cannot be taken as they stand, and what was done about each. */
export function ReadingNotes({ notes, ferment }: Props) {
  // Order is that of the clock here; entering a reading late is nothing odd.
  const odd = notes.filter(({ message }) => !message.startsWith('out of order'));
  if (odd.length === 0) return null;
  return (
    <ul class="reading-notes" aria-label="Odd readings">
      {odd.map(({ recordId, message }) => (
        <li key={`${recordId} ${message}`} class="warning">
          {`${nameOf(recordId, ferment)}: ${message}.`}
        </li>
      ))}
    </ul>
  );
}

function nameOf(recordId: string, { readings, rack }: FermentStanding): string {
  const reading = [...readings, ...(rack === null ? [] : [rack])].find(({ id }) => id === recordId);
  if (reading === undefined) return 'A reading';
  const read = reading.gravitySg === undefined ? '' : `${gravity(reading.gravitySg)} `;
  return `${read}on ${moment(reading.happenedAt)}`;
}
