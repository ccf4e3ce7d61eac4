import { authorshipOf } from '#db/authorship.ts';
import type { Database } from '#db/database.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { refusalToWrite } from '#shared/permissions.ts';
import { RequestError } from '../problem.ts';
import type { PersonCaller } from './caller.ts';

/** @throws RequestError `forbidden` when this person may not write this entry */
export async function refuseUnlessMay(
  { query }: Database,
  { account, entry, nowMs }: { account: PersonCaller['account']; entry: Entry; nowMs: number },
): Promise<void> {
  const { supersedes } = entry;
  const corrected = supersedes === undefined ? undefined : await authorshipOf(query, supersedes);
  const refusal = refusalToWrite(account, entry, { corrected, nowMs });
  if (refusal !== undefined) throw new RequestError('forbidden', refusal);
}
