import { type GravityFieldUnit, gravityFieldUnits } from '../gravityEntry.ts';
import { massUnit, temperatureUnit, volumeUnit } from '../tradeUnits.ts';
import { massUnits, temperatureUnits, volumeUnits } from '../words.ts';
import type { ImportUnits } from './cells.ts';
import { type SheetKind, sheetColumns } from './sheets.ts';

/** The heading of theirs for each column of ours. */
export type Mapping = Record<string, string>;
/** The units of single columns, where their headings name other ones than were chosen for the file. */
export type ColumnUnits = Readonly<Record<string, Partial<ImportUnits>>>;

/** The columns of a file that plainly are ours, by their headings, with or without a unit in them. */
export function likelyMapping(kind: SheetKind, headers: readonly string[]): Mapping {
  const taken = new Set<string>();
  const pairs: [string, string][] = [];
  for (const nameOf of [plain, (header: string) => parted(header).name])
    for (const { key, label, also } of sheetColumns[kind]) {
      const names = [label.toLowerCase(), key.toLowerCase(), ...also];
      if (pairs.some(([known]) => known === key)) continue;
      const header = names
        .map((name) => headers.find((each) => nameOf(each) === name && !taken.has(each)))
        .find((each) => each !== undefined);
      if (header === undefined) continue;
      taken.add(header);
      pairs.push([key, header]);
    }
  return Object.fromEntries(pairs);
}

const plain = (header: string) =>
  header
    .toLowerCase()
    .replace(/[_\s]+/g, ' ')
    .trim();

const gravityMarks: Record<GravityFieldUnit, readonly string[]> = {
  sg: ['sg'],
  plato: ['°p', 'p', 'plato', 'degrees plato'],
  degrees: ['degrees', 'excess degrees'],
};
const marksOf = ({ sign, words, marks }: (typeof volumeUnit)['L']) =>
  [sign, words, ...marks].map((mark) => mark.toLowerCase()).filter((mark) => mark !== '°');
const knownMarks = new Set([
  ...Object.values({ ...volumeUnit, ...massUnit, ...temperatureUnit }).flatMap(marksOf),
  ...Object.values(gravityMarks).flat(),
]);

/** "Volume (hL)", "Volume, hL", "Volume in hL" and "volume_hl": the name and what may be its unit. */
function parted(header: string): { name: string; mark?: string | undefined } {
  const words = plain(header);
  const inBrackets = /^(.*?)[([{]([^)\]}]*)[)\]}](.*)$/.exec(words);
  if (inBrackets !== null) {
    const [, before = '', mark = '', after = ''] = inBrackets;
    return { name: `${before.trim()} ${after.trim()}`.trim(), mark: mark.trim() };
  }
  for (const ending of [/^(.+?)(?:,| in| -| \/)? (\S+ \S+)$/, /^(.+?)(?:,| in| -| \/)? (\S+)$/]) {
    const [, name = '', mark = ''] = ending.exec(words) ?? [];
    if (knownMarks.has(mark)) return { name, mark };
  }
  return { name: words };
}

type Quantity = 'volume' | 'amount' | 'gravity' | 'temperature';
const quantityOf: Partial<Record<string, Quantity>> = {
  volume: 'volume',
  amount: 'amount',
  og: 'gravity',
  rackGravity: 'gravity',
  gravity: 'gravity',
  setTemp: 'temperature',
  temp: 'temperature',
};

/**
 * The unit a heading names for a column of ours: nothing where it names none or the one chosen, and
 * a problem where it may mean two.
 */
export function headingUnit(
  key: string,
  heading: string,
  chosen: ImportUnits,
): Partial<ImportUnits> | { problem: string } {
  const quantity = quantityOf[key];
  const { mark } = parted(heading);
  if (quantity === undefined || mark === undefined) return {};
  const candidates = unitsBy[quantity](mark);
  if (candidates.length === 0 || candidates.some((unit) => unit[quantity] === chosen[quantity]))
    return {};
  const [only, other] = candidates;
  if (only !== undefined && other === undefined) return only;
  const signs = candidates.map((unit) => unit[quantity]).join(' or ');
  return { problem: `Its heading says ${mark}, which may be ${signs}: choose one above` };
}

const unitsBy: Record<Quantity, (mark: string) => Partial<ImportUnits>[]> = {
  volume: (mark) =>
    volumeUnits
      .filter((unit) => marksOf(volumeUnit[unit]).includes(mark))
      .map((volume) => ({ volume })),
  amount: (mark) =>
    (['L', ...massUnits] as const)
      .filter((unit) => marksOf(unit === 'L' ? volumeUnit.L : massUnit[unit]).includes(mark))
      .map((amount) => ({ amount })),
  gravity: (mark) =>
    gravityFieldUnits
      .filter((unit) => gravityMarks[unit].includes(mark))
      .map((gravity) => ({ gravity })),
  temperature: (mark) =>
    temperatureUnits
      .filter((unit) => marksOf(temperatureUnit[unit]).includes(mark))
      .map((temperature) => ({ temperature })),
};

/** Our column for a fact of an entry that the log refused: its path in the entry against our keys. */
export function columnOfFact(kind: SheetKind, path: string): string {
  const [fact = ''] = path.split('.');
  const keys = [fact, ...(columnsOfFacts[fact] ?? [])];
  return keys.find((key) => sheetColumns[kind].some((column) => column.key === key)) ?? path;
}

const columnsOfFacts: Partial<Record<string, readonly string[]>> = {
  happenedAt: ['collectedAt', 'takenAt', 'pitchedAt', 'at'],
  amountL: ['amount'],
  amountKg: ['amount'],
  volumeL: ['volume'],
  originalGravitySg: ['og'],
  gravitySg: ['gravity', 'rackGravity'],
  tempC: ['temp'],
  setTempC: ['setTemp'],
  oxygenMgPerL: ['oxygen'],
  zincMgPerL: ['zinc'],
  cellsPerMl: ['cells'],
  fermentId: ['gyle'],
  lotId: ['lot'],
  strainId: ['strain'],
  vesselId: ['vessel'],
  fillings: ['squares'],
};
