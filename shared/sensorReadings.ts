import * as z from 'zod/mini';
import type { EntryOf } from './entries/entry.ts';
import { choice, moment, quantity, text } from './fields.ts';
import { gravityFieldUnits, readGravity } from './gravityEntry.ts';
import { celsiusFromFahrenheit } from './units.ts';
import { temperatureUnits } from './words.ts';

export const mostAtOnce = 100;

const value = (label: string) => quantity(label, '', { min: -100, max: 2000 });

const sensorReading = z.strictObject({
  /** FV by its name; left out when the token is for one FV. */
  vessel: z.optional(text('FV', 20)),
  /** Name or short code of the site, where two have an FV of that name. */
  site: z.optional(text('The site', 40)),
  /** When it was measured; or `ageS`; with neither, as it arrives. */
  at: z.optional(moment('When it was measured')),
  /** For a sensor without a clock: how long ago it was measured. */
  ageS: z.optional(quantity('Age', 'seconds', { min: 0, max: 7 * 86_400 })),
  /** Whatever the sensor never uses twice: the same key again writes nothing. */
  key: z.optional(text('Key', 64)),
  gravity: z.optional(
    z.strictObject({ value: value('Gravity'), unit: choice('Gravity unit', gravityFieldUnits) }),
  ),
  temperature: z.optional(
    z.strictObject({
      value: value('Temperature'),
      unit: choice('Temperature unit', temperatureUnits),
    }),
  ),
  ph: z.optional(quantity('pH', '', { min: 2, max: 9 })),
});
export type SensorReading = z.infer<typeof sensorReading>;

/** For a sensor that can set no header; it is looked at on the way in, and then left behind. */
const token = z.optional(text('Token', 80));

/** One reading, or several under `readings`. */
export const sensorPost = z.union(
  [
    z.strictObject({
      token,
      readings: z
        .array(sensorReading, { error: 'Readings must be a list' })
        .check(
          z.minLength(1, { error: 'Give one reading at least' }),
          z.maxLength(mostAtOnce, { error: `At most ${mostAtOnce} readings at once` }),
        ),
    }),
    z.extend(sensorReading, { token }),
  ],
  { error: 'Send one reading, or a list of them under readings' },
);

type Measured = Pick<EntryOf<'reading'>, 'gravitySg' | 'tempC' | 'ph'>;

/** What a sensor measured in the units of the log; or why it cannot be read. */
export function measuredBy({
  gravity,
  temperature,
  ph,
}: SensorReading): { measured: Measured } | { path: string; message: string } {
  const read = gravity === undefined ? undefined : readGravity(gravity.value, gravity.unit);
  if (read?.kind === 'unsure') return { path: 'gravity.value', message: read.message };
  return {
    measured: {
      ...(read === undefined ? {} : { gravitySg: read.gravitySg }),
      ...(temperature === undefined ? {} : { tempC: celsius(temperature) }),
      ...(ph === undefined ? {} : { ph }),
    },
  };
}

const celsius = ({ value: degrees, unit }: { value: number; unit: '°C' | '°F' }) =>
  unit === '°C' ? degrees : celsiusFromFahrenheit(degrees);
