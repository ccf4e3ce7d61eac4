import { readGravity } from '#shared/gravityEntry.ts';
import type { Reading, TypedUnit } from '#shared/typedNumber.ts';
import { readNumber } from '#shared/typedNumber.ts';
import type { Units } from './settings.ts';

const unitOf: Record<Units['gravity'], TypedUnit> = {
  SG: { words: 'SG, such as 1040', marks: ['SG'] },
  '°P': { words: 'degrees Plato', marks: ['°P', 'P', 'Plato'] },
};

/** A gravity as typed in the brewery's own unit; what does not fit it is questioned. */
export function gravityTyped(typed: string, label: string, unit: Units['gravity']): Reading {
  const read = readNumber(plainly(typed), label, unitOf[unit]);
  if (!('value' in read)) return read;
  const gravity = readGravity(read.value, scale(unit));
  return gravity.kind === 'ok' ? { value: gravity.gravitySg } : { problem: gravity.message };
}

/** What a gravity that does not fit its field may have been meant as [SG]. */
export function gravitiesMeant(typed: string, unit: Units['gravity']): number[] {
  const read = readNumber(plainly(typed), '', unitOf[unit]);
  if (!('value' in read)) return [];
  const gravity = readGravity(read.value, scale(unit));
  if (gravity.kind === 'ok') return [];
  return [gravity.otherSg, gravity.offerSg].flatMap((meant) =>
    // A tenth of a degree is as fine as anyone writes it.
    meant === undefined ? [] : [Math.round(meant * 10_000) / 10_000],
  );
}

const scale = (unit: Units['gravity']) => (unit === 'SG' ? 'sg' : 'plato');

// "1,040" can only be 1.040 here, whichever way the comma is meant.
const plainly = (typed: string) => typed.trim().replace(/^(\d),(\d{3})\b/, '$1.$2');
