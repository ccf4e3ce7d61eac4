import type { Entry } from './entries/entry.ts';

type EntryChange = { field: string; before: unknown; after: unknown };

/** What every entry carries besides its facts, and what a correction adds. */
const besides = new Set(['kind', 'by', 'supersedes', 'reason']);

/** The facts in which a correction differs from what it corrects, in the order of the fields. */
export function entryChanges(before: Entry, after: Entry): EntryChange[] {
  const earlier = new Map<string, unknown>(Object.entries(before));
  const later = new Map<string, unknown>(Object.entries(after));
  return [...new Set([...earlier.keys(), ...later.keys()])]
    .filter((field) => !besides.has(field))
    .map((field) => ({ field, before: earlier.get(field), after: later.get(field) }))
    .filter(({ before: was, after: is }) => !isSame(was, is));
}

/** Figures closer than this share are one figure worked out twice [-]. */
const ALIKE = 1e-9;

function isSame(was: unknown, is: unknown): boolean {
  return typeof was === 'number' && typeof is === 'number'
    ? Math.abs(was - is) <= ALIKE * Math.abs(was)
    : JSON.stringify(was) === JSON.stringify(is);
}
