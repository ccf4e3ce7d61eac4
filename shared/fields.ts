import * as z from 'zod/mini';
import { isTimeZone } from './localDay.ts';

type Range = { min?: number; max?: number; above?: number };

const plain = (value: number) => value.toLocaleString('en-GB', { maximumFractionDigits: 6 });

function expectation(label: string, unit: string, { min, max, above }: Range): string {
  const inUnit = unit === '' ? '' : ` ${unit}`;
  if (above !== undefined && max !== undefined)
    return `${label} must be a number above ${plain(above)} and at most ${plain(max)}${inUnit}`;
  if (above !== undefined) return `${label} must be a number above ${plain(above)}${inUnit}`;
  if (min !== undefined && max !== undefined)
    return `${label} must be a number from ${plain(min)} to ${plain(max)}${inUnit}`;
  return `${label} must be a number${unit === '' ? '' : ` in ${unit}`}`;
}

/** A number with its unit and range; every refusal says what was expected. */
export function quantity(label: string, unit: string, range: Range) {
  const error = expectation(label, unit, range);
  const checks = [];
  if (range.above !== undefined) checks.push(z.gt(range.above, { error }));
  if (range.min !== undefined) checks.push(z.gte(range.min, { error }));
  if (range.max !== undefined) checks.push(z.lte(range.max, { error }));
  return z.number({ error }).check(...checks);
}

/** A whole number, such as cells in a square. */
export function whole(label: string, range: { min: number; max: number }) {
  const error = `${label} must be a whole number from ${plain(range.min)} to ${plain(range.max)}`;
  return z.int({ error }).check(z.gte(range.min, { error }), z.lte(range.max, { error }));
}

// C0 controls other than newline and tab, NUL among them: the store would cut the text there.
const hasControl = (value: string) =>
  [...value].some((character) => {
    const code = character.codePointAt(0) ?? 0;
    return code < 32 && code !== 9 && code !== 10;
  });

// A high surrogate not followed by a low one, or a low one on its own, cannot be stored as UTF-8.
const isWellFormed = (value: string) =>
  !/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/.test(value);

/**
 * Text a person typed: not empty, no control characters, limited in length; the same letter is kept
 * in the same way however the device composed it.
 */
export function text(label: string, maxLength: number) {
  const error = `${label} must be text of 1 to ${maxLength} characters`;
  return z.string({ error }).check(
    z.normalize('NFC'),
    z.maxLength(maxLength, { error }),
    z.refine((value) => value.trim().length > 0, { error: `Enter ${label.toLowerCase()}` }),
    z.refine((value) => !hasControl(value) && isWellFormed(value), {
      error: `${label} holds characters that cannot be stored`,
    }),
  );
}

/** One of a short list of words. */
export function choice<const T extends readonly [string, ...string[]]>(label: string, values: T) {
  return z.enum(values, { error: `${label} must be one of: ${values.join(', ')}` });
}

export function reference(label: string) {
  const error = `${label} must be the id of a record`;
  return z.string({ error }).check(z.regex(uuidPattern, { error }));
}

export const uuidPattern =
  /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
export const uuidV7Pattern =
  /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

export function moment(label: string) {
  const error = `${label} must be a date and time with its offset, such as 2026-03-01T09:30:00Z`;
  return z.iso.datetime({ offset: true, error });
}

export function day(label: string) {
  return z.iso.date({ error: `${label} must be a date such as 2026-03-01` });
}

/** A zone of the IANA time zone database. */
export function timeZone(label: string) {
  return text(label, 60).check(
    z.refine(isTimeZone, {
      error: `${label} must be written as area and city, such as Europe/London`,
    }),
  );
}

export const volumeL = quantity('Volume', 'litres', { above: 0, max: 200_000 });
export const gravitySg = quantity('Gravity', 'SG (such as 1.040)', { min: 0.98, max: 1.2 });
export const tempC = quantity('Temperature', '°C', { min: -10, max: 60 });
export const amountL = quantity('Amount', 'litres', { above: 0, max: 20_000 });
export const amountKg = quantity('Amount', 'kilograms', { above: 0, max: 20_000 });
