import { dayWords } from '#shared/dayWords.ts';
import { platoFromSg } from '#shared/science/gravity.ts';
import { shareRangeWords } from '#shared/shareWords.ts';
import { massUnit, temperatureUnit, volumeUnit } from '#shared/tradeUnits.ts';
import { firstGeneration, units } from './settings.ts';

/** The only place that turns stored figures into what people read, in the brewery's own units. */

const locale = 'en-GB';

/** Rounded to so many significant figures, whole numbers kept whole. */
export function figure(value: number, significant = 3): string {
  const size = Math.abs(value);
  const wholeDigits = size < 1 ? 1 : Math.floor(Math.log10(size)) + 1;
  const decimals = Math.max(0, Math.min(4, significant - wholeDigits));
  return value.toLocaleString(locale, {
    maximumFractionDigits: size > 0 && size < 1 ? significant : decimals,
    minimumFractionDigits: 0,
  });
}

/** As it was typed: whole numbers whole, others with the decimals they have. */
export const wholeOrDecimal = (value: number) =>
  value.toLocaleString(locale, { maximumFractionDigits: 4 });

export const fixed = (value: number, decimals: number) =>
  value.toLocaleString(locale, {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
  });

export const percent = (value: number, decimals = 0) => `${fixed(value, decimals)} %`;

/** Beer and wort, in the brewery's volume unit. */
export function volume(volumeL: number): string {
  const unit = volumeUnit[units.value.volume];
  return `${figure(unit.fromStored(volumeL), 4)} ${unit.sign}`;
}

/** Yeast: always litres or the brewery's weight unit, whatever beer is measured in. */
export function amount(value: number, unit: 'L' | 'kg'): string {
  return `${amountFigure(value, unit)} ${amountUnit(unit)}`;
}

const amountUnit = (unit: 'L' | 'kg') => (unit === 'L' ? 'L' : massUnit[units.value.mass].sign);

export function amountFigure(value: number, unit: 'L' | 'kg'): string {
  const shown = unit === 'L' ? value : massUnit[units.value.mass].fromStored(value);
  return Math.abs(shown) >= 100 ? figure(shown, 3) : fixed(shown, Math.abs(shown) < 1 ? 2 : 1);
}

export const amountRange = (low: number, high: number, unit: 'L' | 'kg') =>
  `${amountFigure(low, unit)} to ${amount(high, unit)}`;

/** The amount of an entry, whichever of the two it gave. */
export function enteredAmount(entry: {
  amountL?: number | undefined;
  amountKg?: number | undefined;
}) {
  if (entry.amountL !== undefined) return amount(entry.amountL, 'L');
  return entry.amountKg === undefined ? 'no amount' : amount(entry.amountKg, 'kg');
}

export function temperature(tempC: number): string {
  const unit = temperatureUnit[units.value.temperature];
  return `${fixed(unit.fromStored(tempC), 1).replace(/\.0$/, '')} ${unit.sign}`;
}

export const generation = (stored: number) => `gen ${stored + firstGeneration.value}`;

export const millionPerMl = (cellsPerMl: number) => cellsPer(cellsPerMl, 'mL');

/** Cells in millions, to three figures. */
export const millions = (cells: number) =>
  (cells / 1e6).toLocaleString(locale, { maximumSignificantDigits: 3 });

/** Slurry and pressed yeast: thousands of millions, in mL or g. */
export const cellsPer = (value: number, basis: 'mL' | 'g') => `${millions(value)} million/${basis}`;

export const cellsRange = ({ low, high }: { low: number; high: number }, basis: 'mL' | 'g') =>
  `${millions(low)} to ${cellsPer(high, basis)}`;

const superscripts = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];

export const cells = (value: number) => `${scientific(value)} cells`;

/** As 1.23 × 10¹³ from ten thousand up. */
export function scientific(value: number): string {
  const power = value === 0 ? 0 : Math.floor(Math.log10(Math.abs(value)));
  if (power < 4) return figure(value);
  const raised = [...String(power)].map((digit) => superscripts[Number(digit)] ?? '').join('');
  return `${fixed(value / 10 ** power, 2)} × 10${raised}`;
}

export const rate = (millionPerMlPerPlato: number) =>
  `${fixed(millionPerMlPerPlato, 2)} million/mL/°P`;

/** Room on a disk, in the units that disks are sold by. */
export function bytes(value: number): string {
  return value < 1e9 ? `${figure(value / 1e6)} MB` : `${figure(value / 1e9)} GB`;
}

export const percentRange = shareRangeWords;

/** How long since the yeast went in. */
export const sincePitching = (hours: number) =>
  hours < 1 / 60 ? 'just pitched' : `${duration(hours)} since pitching`;

/** "5 h ago"; less than a minute is just now. */
export const ago = (hours: number) => (hours < 1 / 60 ? 'just now' : `${duration(hours)} ago`);

export function duration(hours: number): string {
  const whole = Math.max(0, Math.round(hours));
  if (hours < 1) return `${Math.max(0, Math.round(hours * 60))} min`;
  if (whole < 48) return `${whole} h`;
  const days = Math.floor(whole / 24);
  return days < 5 && whole % 24 > 0 ? `${days} d ${whole % 24} h` : `${Math.round(hours / 24)} d`;
}

const clockParts = { hour: '2-digit', minute: '2-digit', hour12: false } as const;

/** "Tue 24 Nov, 09:30", in the device's own time; with the year when it is not the current one. */
export function moment(iso: string): string {
  const date = new Date(iso);
  return `${day(localDay(date))}, ${clockTime(date)}`;
}

/** "09:30". */
export const clockTime = (date: Date) => date.toLocaleTimeString(locale, clockParts);

/** The date of a moment or the date itself: "Tue 24 Nov", with the year when it is not the current one. */
export const day = (iso: string) => dayWords(dateOf(iso), localDay(new Date()));

/** "Tue 24 Nov 2026": for paper, which is read at any time. */
export const fullDay = (iso: string) => dayWords(dateOf(iso));

/** The date on which a moment falls for whoever reads it. */
const dateOf = (iso: string) => (iso.includes('T') ? localDay(new Date(iso)) : iso);

/** The text of a datetime-local field for a moment, in the device's own time. */
export function localStamp(date: Date): string {
  const pad = (part: number) => String(part).padStart(2, '0');
  const ymd = `${date.getFullYear()}-${pad(date.getMonth() + 1)}-${pad(date.getDate())}`;
  return `${ymd}T${pad(date.getHours())}:${pad(date.getMinutes())}`;
}

export const localDay = (date: Date) => localStamp(date).slice(0, 10);

/** Gravity as the brewery writes it: 1040 or 1040.5, else °P. */
export function gravity(gravitySg: number): string {
  return units.value.gravity === 'SG'
    ? fixed(gravitySg * 1000, 1)
        .replace(',', '')
        .replace(/\.0$/, '')
    : `${fixed(platoFromSg(gravitySg), 1)} °P`;
}
