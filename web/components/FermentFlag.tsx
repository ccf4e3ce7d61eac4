import type { FermentStanding } from '#shared/views/ferments.ts';
import { Tag, type Tone } from './Status.tsx';

const tones: Record<FermentStanding['flag']['status'], Tone> = {
  'too early': 'plain',
  'on course': 'good',
  slow: 'watch',
  'no reading': 'watch',
  done: 'good',
};

/** How a ferment goes, in a word with its own shape. */
export function FermentFlag({ flag }: { flag: FermentStanding['flag'] }) {
  return <Tag tone={tones[flag.status]}>{flag.status}</Tag>;
}
