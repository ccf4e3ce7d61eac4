import * as z from 'zod/mini';
import { choice, reference, text, timeZone } from '../fields.ts';
import { gravityFieldUnits } from '../gravityEntry.ts';
import { dateOrders } from '../localTime.ts';
import * as words from '../words.ts';
import { sheetKinds } from './sheets.ts';

const mostSheets = 5;
const mostCsvLength = 1_500_000;

const csvRule = `A file must be text of 1 to ${mostCsvLength} characters`;
const heading = z.string({ error: 'A heading must be text' }).check(z.maxLength(200));

const sheet = z.strictObject({
  kind: choice('Kind of file', sheetKinds),
  csv: z
    .string({ error: csvRule })
    .check(z.minLength(1, { error: csvRule }), z.maxLength(mostCsvLength, { error: csvRule })),
  /** Our column by the heading of theirs; headings that are plain are found when it is left out. */
  mapping: z.optional(z.record(z.string().check(z.maxLength(40)), heading)),
  units: z.strictObject({
    volume: choice('Volume unit', words.volumeUnits),
    amount: choice('Unit of amounts', ['L', ...words.massUnits]),
    gravity: choice('Gravity unit', gravityFieldUnits),
    temperature: choice('Temperature unit', words.temperatureUnits),
    dateOrder: choice('Order of dates', dateOrders),
    timeZone: timeZone('Time zone'),
  }),
});

/** Files of old records, to be tried or brought in. */
export const importRequest = z.strictObject({
  /** The site all rows belong to; needed where there are several. */
  siteId: z.optional(reference('The site')),
  sheets: z
    .array(sheet, { error: 'Files must be a list' })
    .check(
      z.minLength(1, { error: 'Give one file at least' }),
      z.maxLength(mostSheets, { error: `At most ${mostSheets} files in one import` }),
    ),
});
export type ImportRequest = z.infer<typeof importRequest>;

export const undoRequest = z.strictObject({ reason: text('The reason', 500) });
