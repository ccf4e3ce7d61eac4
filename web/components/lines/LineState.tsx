import type { LineMeasureDrift, LineStanding } from '#shared/views/lines.ts';
import { Tag, type Tone } from '../frame/Status.tsx';

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

const measureWords: Record<Exclude<LineMeasureDrift['state'], 'drifting'>, [Tone, string]> = {
  'not measured': ['plain', 'not measured'],
  settling: ['plain', 'settling in'],
  'too few': ['plain', 'too few to tell'],
  steady: ['good', 'steady'],
};

/** How one measure of a line goes; a drift that is not for the worse is only told. */
export function MeasureState({ standing }: { standing: LineMeasureDrift }) {
  const { state, direction, isDecline } = standing;
  if (state === 'drifting')
    return <Tag tone={isDecline ? 'watch' : 'plain'}>{`drifts ${direction ?? ''}`}</Tag>;
  const [tone, word] = measureWords[state];
  return <Tag tone={tone}>{word}</Tag>;
}
