import type { Units } from './settings.ts';
import type { Reading } from './typed.ts';
import { readNumber } from './typed.ts';

export const platoOf = (gravitySg: number) => 260.4 - 260.4 / gravitySg;
const sgOf = (plato: number) => 260.4 / (260.4 - plato);

/** A gravity as typed: 1040, 1.040 or 40 degrees where SG is used; °P where that is. */
export function readGravity(typed: string, label: string, unit: Units['gravity']): Reading {
  const read = readNumber(typed.replace(/^(\d),(\d{3})$/, '$1.$2'), label, {
    words: unit === 'SG' ? 'SG, such as 1040' : 'degrees Plato',
    marks: unit === 'SG' ? ['SG', '°'] : ['°P', 'P', 'Plato'],
  });
  if (!('value' in read)) return read;
  if (unit === '°P') return { value: sgOf(read.value) };
  if (read.value >= 900) return { value: read.value / 1000 };
  return read.value >= 2 ? { value: 1 + read.value / 1000 } : { value: read.value };
}
