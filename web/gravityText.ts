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
  // "1,040" can only be 1.040 here, whichever way the comma is meant.
  const plain = typed.trim().replace(/^(\d),(\d{3})\b/, '$1.$2');
  const read = readNumber(plain, label, unitOf[unit]);
  if (!('value' in read)) return read;
  const gravity = readGravity(read.value, unit === 'SG' ? 'sg' : 'plato');
  return gravity.kind === 'ok' ? { value: gravity.gravitySg } : { problem: gravity.message };
}
