import { LibsqlError } from '@libsql/client';
import type { WriteStop } from './writeStops.ts';

/** What a failed write to a file means for the writes after it. */
type StopRule = { codes: RegExp; stop: WriteStop; isFinal: boolean };

const stopRules: readonly StopRule[] = [
  {
    codes: /^SQLITE_BUSY/,
    stop: { code: 'unavailable', reason: 'The log is busy; nothing was saved. Try again.' },
    isFinal: false,
  },
  {
    codes: /^SQLITE_FULL/,
    stop: {
      code: 'storage_full',
      reason: 'The disk of the log is full; nothing was saved. Reading still works.',
    },
    isFinal: false,
  },
  {
    codes: /^SQLITE_(READONLY|IOERR|CANTOPEN)/,
    stop: {
      code: 'read_only',
      reason: 'The file of the log cannot be written; nothing was saved. Reading still works.',
    },
    isFinal: false,
  },
  {
    codes: /^SQLITE_(CORRUPT|NOTADB)/,
    stop: {
      code: 'read_only',
      reason: 'The file of the log is damaged: nothing more is written to it. Restore a backup.',
    },
    isFinal: true,
  },
];

/** Undefined when the storage is not at fault. */
export function stopRuleOf(error: unknown): StopRule | undefined {
  return error instanceof LibsqlError
    ? stopRules.find(({ codes }) => codes.test(error.code))
    : undefined;
}

export function isBusy(error: unknown): boolean {
  return error instanceof LibsqlError && error.code.startsWith('SQLITE_BUSY');
}
