import type { TypedUnit } from './typedNumber.ts';
import {
  celsiusFromFahrenheit,
  fahrenheitFromCelsius,
  KILOGRAMS_PER_POUND,
  LITRES_PER_UK_BARREL,
  LITRES_PER_US_BARREL,
} from './units.ts';
import type * as words from './words.ts';

/** A unit people write in: its sign, its words, and the way to the unit of storage. */
export type Unit = TypedUnit & {
  sign: string;
  fromStored: (x: number) => number;
  toStored: (x: number) => number;
};

const scaled = (sign: string, words: string, stored: number, marks: string[]): Unit => ({
  sign,
  words,
  marks: [sign, ...marks],
  fromStored: (x) => x / stored,
  // 16.4 hL are 1640 L: what multiplying leaves behind is no part of what was written.
  toStored: (x) => Number((x * stored).toPrecision(12)),
});

export const volumeUnit: Record<(typeof words.volumeUnits)[number], Unit> = {
  L: scaled('L', 'litres', 1, ['litre', 'litres', 'liter', 'liters', 'ltr']),
  hL: scaled('hL', 'hectolitres', 100, ['hectolitre', 'hectolitres']),
  'UK brl': scaled('UK brl', 'UK barrels', LITRES_PER_UK_BARREL, [
    'ukbrl',
    'brl',
    'bbl',
    'barrels',
  ]),
  'US bbl': scaled('US bbl', 'US barrels', LITRES_PER_US_BARREL, [
    'usbbl',
    'bbl',
    'brl',
    'barrels',
  ]),
};

export const massUnit: Record<(typeof words.massUnits)[number], Unit> = {
  kg: scaled('kg', 'kilograms', 1, ['kilo', 'kilos', 'kilogram', 'kilograms']),
  lb: scaled('lb', 'pounds', KILOGRAMS_PER_POUND, ['lbs', 'pound', 'pounds']),
};

export const temperatureUnit: Record<(typeof words.temperatureUnits)[number], Unit> = {
  '°C': scaled('°C', 'degrees Celsius', 1, ['C', 'degC', '°']),
  '°F': {
    sign: '°F',
    words: 'degrees Fahrenheit',
    marks: ['°F', 'F', 'degF', '°'],
    fromStored: fahrenheitFromCelsius,
    toStored: celsiusFromFahrenheit,
  },
};

export const plainUnit = (sign: string, words: string, marks: string[] = []): Unit =>
  scaled(sign, words, 1, marks);
