import type { RecordEntry } from '../entries/entry.ts';
import type { FieldError } from '../errors.ts';
import { faultOfName } from '../nameText.ts';

const labels: Record<string, string> = {
  name: 'The name',
  code: 'The code',
  gyle: 'The gyle number',
  beer: 'The beer',
  medium: 'The medium',
};

/**
 * Names that bear a character nobody sees. A rule for what comes in and no part of the schema: entries
 * made before it stay readable, and so does a name that a correction leaves as it was.
 */
export function nameRefusals(
  entry: RecordEntry,
  { before }: { before: RecordEntry | undefined },
): FieldError[] {
  const earlier = new Map(Object.entries(before ?? {}));
  const given = Object.entries(entry).flatMap(([path, value]) => {
    const label = labels[path];
    return label === undefined || earlier.get(path) === value ? [] : [{ path, label, value }];
  });
  const known = before?.kind === 'rack' ? before.batches : [];
  const batches = (entry.kind === 'rack' ? entry.batches : []).flatMap((value, index) =>
    known.includes(value) ? [] : [{ path: `batches.${index}`, label: 'The cask batch', value }],
  );
  return [...given, ...batches].flatMap(({ path, label, value }) => {
    const message = typeof value === 'string' ? faultOfName(label, value) : undefined;
    return message === undefined ? [] : [{ path, message }];
  });
}
