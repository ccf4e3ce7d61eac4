import { signal } from '@preact/signals';
import type { Entry } from '#shared/entries/entry.ts';
import { mayStrikeHere } from '../../mayWrite.ts';
import { deliver } from '../../outbox/deliver.ts';
import { freshId } from '../../outbox/freshId.ts';
import { roundsSent, takeOut, waiting } from '../../outbox/queue.ts';
import { whileNothingIsSent } from '../../outbox/sendWaiting.ts';
import { signedIn } from '../../signedIn.ts';

type SavedEntry = { id: string; entry: Entry };

/** What was just saved, and the page it was saved on. */
export type Undoable = { entries: readonly SavedEntry[]; from: string };

/** Records taken back here since the page was opened; what was shown of them is out of date. */
export const takenBack = signal<readonly string[]>([]);

const reason = 'Saved by mistake';

const isQueued = (id: string) => waiting.value.some((item) => item.id === id);

/**
 * Whether all of it can be taken back by whoever is signed in: what still waits here by anyone, a
 * record in the log by those who may strike out. A correction in the log is put right by another one.
 */
export function canUndo({ entries }: Undoable): boolean {
  const mayStrike = mayStrikeHere();
  return entries.every(({ id, entry }) => isQueued(id) || (mayStrike && isNew(entry)));
}

const isNew = ({ kind, supersedes }: Entry) => kind !== 'void' && supersedes === undefined;

/** Takes back what was just saved, the last first; gives why not, where it could not be. */
export async function undo({ entries }: Undoable): Promise<string | undefined> {
  const backwards = entries.toReversed();
  // What is on its way would otherwise arrive though it was taken out.
  const unsent = await whileNothingIsSent(async () => {
    const ids = backwards.map(({ id }) => id).filter(isQueued);
    await takeOut(ids);
    return ids;
  });
  const voids = backwards.filter(({ id }) => !unsent.includes(id)).map(voided);
  const refusal = voids.length === 0 ? undefined : (await deliver(voids)).refusal;
  const lasting = new Set(refusal && backwards.slice(unsent.length + refusal.index).map(idOf));
  takenBack.value = [...takenBack.value, ...entries.map(idOf).filter((id) => !lasting.has(id))];
  roundsSent.value += 1;
  return refusal?.problem.detail;
}

const idOf = ({ id }: SavedEntry) => id;

const voided = ({ id, entry }: SavedEntry): SavedEntry => ({
  id: freshId(),
  entry: {
    kind: 'void',
    happenedAt: new Date().toISOString(),
    by: signedIn.value?.name ?? entry.by,
    supersedes: id,
    reason,
  },
});
