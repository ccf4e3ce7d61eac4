import type { Database, Query } from '#db/database.ts';
import { authorshipOf } from '#db/journal/authorship.ts';
import { atEverySite, sitesWrittenAt } from '#db/sites/sites.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { refusalToWrite } from '#shared/permissions.ts';
import { type Role, rolesAt } from '#shared/roles.ts';
import { RequestError } from '../problem.ts';
import type { PersonCaller } from './caller.ts';

/** @throws RequestError `forbidden` when this person may not write this entry */
export async function refuseUnlessMay(
  { query }: Database,
  { account, entry, nowMs }: { account: PersonCaller['account']; entry: Entry; nowMs: number },
): Promise<void> {
  const { supersedes } = entry;
  const corrected = supersedes === undefined ? undefined : await authorshipOf(query, supersedes);
  for (const roles of await rolesFor(query, account, entry)) {
    const refusal = refusalToWrite({ ...account, roles }, entry, { corrected, nowMs });
    if (refusal !== undefined) throw new RequestError('forbidden', refusal);
  }
}

// The roles that count, for each site the entry is written at; most people hold theirs everywhere.
async function rolesFor(
  query: Query,
  account: PersonCaller['account'],
  entry: Entry,
): Promise<(readonly Role[])[]> {
  if (account.siteRoles.length === 0) return [account.roles];
  const places = await sitesWrittenAt(query, entry);
  if (places.length === 0) return [account.roles];
  return places.map((place) =>
    place === atEverySite ? account.roles : rolesAt(account, place.id),
  );
}
