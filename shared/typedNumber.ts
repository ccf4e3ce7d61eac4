/** What a person typed, read as a number; or one sentence on why it cannot be. */
export type Reading = { value: number } | { problem: string } | { blank: true };

export type TypedUnit = {
  /** The unit in words, for messages: "litres". */
  words: string;
  /** What people write behind the number when they mean this unit. */
  marks: readonly string[];
};

const junk = /[\s\u200B-\u200D\u2060\uFEFF]/g;
const shape = /^([-+−]?)(\d*)(?:([.,])(\d*))?$/;

/**
 * Reads "12.5", "12,5", " 12.5 L " and "12.5."; refuses a number that can be read two ways and a
 * unit that is not the field's own.
 */
export function readNumber(typed: string, label: string, unit: TypedUnit): Reading {
  const squeezed = typed.replace(junk, '').replace(/[.,]+$/, '');
  if (squeezed === '') return { blank: true };
  const [, digits = '', behind = ''] = /^([-+−]?[\d.,]*)(.*)$/.exec(squeezed) ?? [];
  const mark = behind.replace(/\.$/, '');
  if (mark !== '' && !unit.marks.some((known) => known.toLowerCase() === mark.toLowerCase()))
    return { problem: wrongUnit(typed.trim(), label, mark, unit) };
  if (/^[-+−]?\d{1,3}(,\d{3})+$/.test(digits) || /[.,].*[.,]/.test(digits))
    return { problem: `${label}: ${digits} can be read two ways. Leave out the thousands mark` };
  const [, sign, whole = '', , part = ''] = shape.exec(digits) ?? [];
  if (whole === '' && part === '') return { problem: `${label} must be a number, such as 12.5` };
  const size = Number(`${whole === '' ? '0' : whole}.${part === '' ? '0' : part}`);
  return { value: sign === '-' || sign === '−' ? -size : size };
}

function wrongUnit(typed: string, label: string, mark: string, unit: TypedUnit): string {
  if (!/^[\p{L}°%/]+\d?$/u.test(mark)) return `${label} must be a number, not “${typed}”`;
  return unit.words === ''
    ? `${label} has no unit here, but “${mark}” was typed`
    : `${label} is asked in ${unit.words}, but “${mark}” was typed`;
}
