import { readGravity } from '../gravityEntry.ts';
import { type DateOrder, readLocalMoment } from '../localTime.ts';
import { massUnit, plainUnit, temperatureUnit, type Unit, volumeUnit } from '../tradeUnits.ts';
import { readNumber } from '../typedNumber.ts';
import type * as words from '../words.ts';

export type ImportUnits = {
  volume: (typeof words.volumeUnits)[number];
  amount: 'L' | (typeof words.massUnits)[number];
  gravity: 'sg' | 'plato' | 'degrees';
  temperature: (typeof words.temperatureUnits)[number];
  dateOrder: DateOrder;
  timeZone: string;
};

/** One row of a file: its cells by our keys, and what could not be read in them. */
export type Row = ReturnType<typeof readRow>;
export type CellProblem = { column: string; message: string };

/** Reads the cells of one row; a blank cell reads as undefined, an unreadable one is reported. */
export function readRow(
  cells: Readonly<Record<string, string>>,
  chosen: ImportUnits,
  ofColumns: Readonly<Record<string, Partial<ImportUnits>>> = {},
) {
  const unitsOf = (key: string): ImportUnits => ({ ...chosen, ...ofColumns[key] });
  const problems: CellProblem[] = [];
  const report = (column: string, message: string) => {
    problems.push({ column, message });
    return undefined;
  };
  const text = (key: string) => {
    const value = cells[key]?.trim() ?? '';
    return value === '' ? undefined : value;
  };
  const number = (key: string, unit: Unit) => {
    const typed = text(key);
    if (typed === undefined) return undefined;
    const read = readNumber(typed, 'It', unit);
    if ('problem' in read) return report(key, read.problem.replace(/^It: /, ''));
    return 'value' in read ? unit.toStored(read.value) : undefined;
  };
  return {
    problems,
    report,
    text,
    number: (key: string) => number(key, plainUnit('', '')),
    volumeL: (key: string) => number(key, volumeUnit[unitsOf(key).volume]),
    tempC: (key: string) => number(key, temperatureUnit[unitsOf(key).temperature]),
    amount: (key: string) => {
      const { amount } = unitsOf(key);
      const unit = amount === 'L' ? volumeUnit.L : massUnit[amount];
      const value = number(key, unit);
      if (value === undefined) return undefined;
      return amount === 'L' ? { amountL: value } : { amountKg: value };
    },
    gravitySg: (key: string) => {
      const value = number(key, plainUnit('', ''));
      if (value === undefined) return undefined;
      const read = readGravity(value, unitsOf(key).gravity);
      return read.kind === 'ok' ? read.gravitySg : report(key, read.message);
    },
    moment: (key: string) => {
      const typed = text(key);
      if (typed === undefined) return undefined;
      const read = readLocalMoment(typed, chosen.dateOrder, chosen.timeZone);
      return 'problem' in read ? report(key, read.problem) : read.at;
    },
    /** Whole numbers in one cell, with whatever stands between them. */
    wholes: (key: string) => {
      const parts = (text(key) ?? '').split(/[;,|/\s]+/).filter((part) => part !== '');
      if (parts.every((part) => /^\d+$/.test(part))) return parts.map(Number);
      report(key, 'Write whole numbers with semicolons between them, such as 38; 41; 35');
      return [];
    },
    list: (key: string) =>
      (text(key) ?? '')
        .split(/[;|]/)
        .map((part) => part.trim())
        .filter((part) => part !== ''),
  };
}
