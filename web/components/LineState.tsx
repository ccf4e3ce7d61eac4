import type { LineStanding } from '#shared/views/lines.ts';
import { Tag, type Tone } from './Status.tsx';

const tones: Record<LineStanding['state'], Tone> = {
  settling: 'plain',
  steady: 'good',
  drifting: 'watch',
  'due soon': 'watch',
  due: 'stop',
  ended: 'spent',
};

const words: Record<LineStanding['state'], string> = {
  settling: 'settling in',
  steady: 'steady',
  drifting: 'drifting',
  'due soon': 'fresh culture due soon',
  due: 'fresh culture due',
  ended: 'ended',
};

/** How a line stands, in words with their own shape. */
export function LineState({ state }: { state: LineStanding['state'] }) {
  return <Tag tone={tones[state]}>{words[state]}</Tag>;
}
