import { amount, cells, gravity, moment, temperature, volume, wholeOrDecimal } from './format.ts';

/** What a field of an entry is called, where its own name does not say it well enough. */
const names: Record<string, string> = {
  happenedAt: 'When it happened',
  amountL: 'Amount',
  amountKg: 'Amount',
  volumeL: 'Volume',
  lotId: 'Lot',
  fermentId: 'Ferment',
  vesselId: 'FV',
  strainId: 'Strain',
  checkId: 'Plate',
  fillings: 'Squares counted',
  ofColonies: 'Of colonies looked at',
  looksFor: 'Looks for',
  dueAt: 'To be read',
  tempC: 'Temperature',
  ph: 'pH',
  why: 'Why',
  override: 'Why all the same',
  expectedViableCells: 'Cells expected alive',
  expectedLowCells: 'Fewest cells expected alive',
  expectedHighCells: 'Most cells expected alive',
  pendingRoutineCheck: 'A routine plate not yet read',
};

/** "Original gravity" of originalGravitySg: the unit goes with the value. */
export function fieldWords(field: string): string {
  const known = names[field];
  if (known !== undefined) return known;
  const words = field
    .replace(/(Sg|C|L|Kg|Percent|Hours|Days|Id|At)$/, '')
    .replace(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`);
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}

/** A fact as people read it, its unit known by the end of its field's name. */
export function factWords(field: string, value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'none';
  if (Array.isArray(value))
    return value.length === 0 ? 'none' : value.map((each) => factWords('', each)).join(', ');
  if (typeof value === 'number') return numberWords(field, value);
  if (typeof value === 'string')
    return /At$/.test(field) ? moment(value) : /Id$/.test(field) ? 'another record' : value;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return JSON.stringify(value);
}

function numberWords(field: string, value: number): string {
  if (field === 'amountL' || field === 'addedL') return amount(value, 'L');
  if (field === 'amountKg') return amount(value, 'kg');
  if (/L$/.test(field)) return volume(value);
  if (/Sg$/.test(field)) return gravity(value);
  if (/[a-z]C$/.test(field)) return temperature(value);
  if (/Cells$/.test(field)) return cells(value);
  const unit = /(Percent|Hours|Days)$/.exec(field)?.[1];
  const sign = { Percent: ' %', Hours: ' h', Days: ' days' }[unit ?? ''] ?? '';
  return `${wholeOrDecimal(value)}${sign}`;
}
