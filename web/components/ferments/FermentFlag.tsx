import type { FermentStanding } from '#shared/views/ferments.ts';
import { Tag, type Tone } from '../frame/Status.tsx';

const tones: Record<FermentStanding['flag']['status'], Tone> = {
  'no yeast yet': 'watch',
  'too early': 'plain',
  'on course': 'good',
  slow: 'watch',
  'no reading': 'watch',
  done: 'good',
};

const words: Record<FermentStanding['flag']['status'], string> = {
  'no yeast yet': 'no yeast yet',
  'too early': 'too early to tell',
  'on course': 'on course',
  slow: 'slow',
  'no reading': 'no reading',
  done: 'done',
};

/** How a ferment goes, in a word with its own shape. */
export function FermentFlag({ flag }: { flag: FermentStanding['flag'] }) {
  return <Tag tone={tones[flag.status]}>{words[flag.status]}</Tag>;
}
