import type { InStatement } from '@libsql/client';
import type { Write } from '../database.ts';
import { isTableRows, type TableRows } from '../tableRows.ts';
import type { SendOnce } from './sendOnce.ts';
import type { Staged } from './staging.ts';
import type { Turn } from './turns.ts';

/** Writes a batch in its turn; rows of whole tables in it are put by on the server first. */
export function sendingAll({
  stage,
  send,
  sendLoad,
}: {
  stage: (loads: readonly TableRows[]) => Promise<Staged>;
  send: SendOnce;
  sendLoad: SendOnce;
}) {
  return async (parts: Parameters<Write>[0], turn: Turn): Promise<void> => {
    const loads = parts.filter(isTableRows);
    if (loads.length === 0) return send(parts.filter(isStatement), turn);
    const { guard, taking, end, forget } = await stage(loads);
    const statements = parts.map((part) => (isTableRows(part) ? taking(part) : part));
    try {
      await sendLoad([guard, ...statements, end], turn);
    } catch (error) {
      // Should the batch arrive after all, its guard refuses it; what stays is cleared away later.
      await forget().catch(() => undefined);
      throw error;
    }
  };
}

const isStatement = (part: InStatement | TableRows): part is InStatement => !isTableRows(part);
