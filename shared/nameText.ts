import * as z from 'zod/mini';
import { text } from './fields.ts';

// Controls, format characters (of no width, or turning the direction of what follows), separators of
// lines, and letters drawn as nothing.
const hidden = /\p{Cc}|\p{Cf}|\p{Zl}|\p{Zp}|[\u115F\u1160\u3164\uFFA0]|\u034F/u;

/** What is wrong with a name: two that look alike must be alike. Undefined when all of it is seen. */
export function faultOfName(label: string, name: string): string | undefined {
  const found = hidden.exec(name)?.[0].codePointAt(0);
  return found === undefined
    ? undefined
    : `${label} holds a character that cannot be seen (U+${found.toString(16).toUpperCase().padStart(4, '0')}): type it anew`;
}

/** A name a person gives, for what is not read again from the journal. */
export const nameText = (label: string, maxLength: number) =>
  text(label, maxLength).check(
    z.refine((name) => faultOfName(label, name) === undefined, {
      error: ({ input }) => faultOfName(label, String(input)) ?? '',
    }),
  );
