import { minuteMs } from '#shared/durations.ts';
import { localStamp } from '../../format.ts';
import { person } from '../../settings.ts';
import type { Spec, Typed } from './fields.ts';
import { choice, paragraph, text } from './fields.ts';

const when = choice({
  label: 'When did it happen?',
  options: [
    { value: 'now', label: 'Now' },
    { value: 'earlier', label: 'Earlier' },
  ],
});

/** Asked in every form: when it happened and who did it; in a correction also why. */
export function commonFields(correcting: boolean): Record<string, Spec<string>> {
  return {
    when: { ...when, show: (value) => value },
    whenText: { ...text({ label: 'Date and time', optional: true }) },
    by: text({ label: 'Your name' }),
    ...(correcting
      ? {
          reason: paragraph({
            label: 'Why is it corrected?',
            hint: 'The old entry stays legible.',
          }),
        }
      : {}),
  };
}

export function commonStart(happenedAt: string | undefined, by = person.value): Typed {
  return {
    when: happenedAt === undefined ? 'now' : 'earlier',
    whenText: happenedAt === undefined ? '' : localStamp(new Date(happenedAt)),
    by,
    reason: '',
  };
}

/** The moment chosen, as ISO text in UTC; a correction that leaves it alone keeps its seconds. */
export function momentOf(
  typed: Typed,
  nowMs: number,
  before?: string,
): { value: string } | { problem: string } {
  if (typed.when !== 'earlier') return { value: new Date(nowMs).toISOString() };
  if (before !== undefined && typed.whenText === localStamp(new Date(before)))
    return { value: before };
  const at = new Date(typed.whenText ?? '');
  if (Number.isNaN(at.getTime()))
    return { problem: 'Enter the date and time, such as 24/11/2026 09:30' };
  if (at.getTime() > nowMs + minuteMs)
    return { problem: 'The date and time must not be in the future' };
  return { value: at.toISOString() };
}
