import { washAgents, washObjections } from '#shared/treatments/acidWash.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import * as words from '#shared/words.ts';
import {
  choice,
  decimal,
  note,
  paragraph,
  plainOptions,
  temperature,
  text,
  yeast,
} from '../form/fields.ts';

export const treatmentFields = (unit: 'L' | 'kg') => ({
  treatment: choice({ label: 'Treatment', options: plainOptions(words.treatmentKinds) }),
  agent: text({ label: 'Acid or agent', optional: true, suggestions: [...washAgents] }),
  ph: decimal({ label: 'pH reached', optional: true }),
  tempC: temperature({ label: 'Warmest the yeast got', optional: true }),
  minutes: decimal({
    label: 'How long',
    unit: 'minutes',
    unitWords: 'minutes',
    marks: ['min', 'minute'],
    optional: true,
    hint: 'The moment written down is that of its end: the yeast is timed from there.',
  }),
  override: paragraph({ label: 'Why is it washed all the same?', optional: true }),
  addedL: yeast({
    label: unit === 'L' ? 'Liquid added' : 'Liquid added (the weight of the lot stays as it was)',
    measuredIn: 'L',
    optional: true,
    hint: 'The lot grows by it. A count made before no longer holds: count it again.',
  }),
  note: note(),
});

/** Why a lot should not be acid washed, by what its page knows; the log knows its beer as well. */
export const knownObjections = (lot: LotStanding): string[] =>
  washObjections({
    viabilityPercent: lot.stain?.percent.value ?? null,
    minViabilityPercent: lot.strain.minViabilityPercent,
    storedDays: lot.ageHours / 24,
    maxStorageDays: lot.strain.maxStorageDays,
    isFresh: lot.kind === 'freshCulture',
    hasContaminants: lot.plates.some(({ result }) => result !== null && result.outcome !== 'clear'),
    abvPercent: null,
  });
