import { createHash } from 'node:crypto';
import type { journal } from '../schema/index.ts';

export type JournalRow = typeof journal.$inferSelect;
/** A row as it stands in a file, which may be damaged. */
export type SealedRow = Omit<JournalRow, 'via'> & { via: string };

export const genesisHash = '0'.repeat(64);

export function sha256(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}

/**
 * The seal of a journal row: everything it says, and the seal before it. Rows written before the
 * clock of the device was kept do not speak of it, and neither do their seals.
 */
export function journalHash(row: Omit<SealedRow, 'hash'>): string {
  return sha256(
    JSON.stringify([
      row.prevHash,
      row.seq,
      row.id,
      row.kind,
      row.recordId,
      row.supersedes,
      row.reason,
      row.byName,
      row.actor,
      row.via,
      row.happenedAt,
      row.happenedMs,
      row.receivedMs,
      row.requestSha256,
      row.body,
      row.warnings,
      ...(row.clockFastMs === null ? [] : [row.clockFastMs]),
    ]),
  );
}
