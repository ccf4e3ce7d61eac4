import { createApp } from '#api/app.ts';
import { hourMs } from '#shared/durations.ts';
import type { Entry } from '#shared/entries/entry.ts';
import type { Role, SiteRole } from '#shared/roles.ts';
import { aSmallStory, at, nextId, storyStartMs } from '../support/brewery.ts';
import { anAccount, aSession } from '../support/signedIn.ts';

/**
 * The small story of one site, then a second one: Weir, with FVs and a gyle 412 of its own, to which
 * half of the crop is sent.
 */
export async function twoSites() {
  const story = await aSmallStory();
  const by = 'Ines';
  const write = (entry: Entry) => story.write(entry, nextId());
  const home = await write({ kind: 'site', happenedAt: at(45), by, name: 'Quay', code: 'Q' });
  const weir = await write({ kind: 'site', happenedAt: at(45), by, name: 'Weir', code: 'W' });
  const there = { happenedAt: at(45), by, siteId: weir.id };
  const weirFv1 = await write({ kind: 'vessel', ...there, name: 'FV1' });
  const facts = { beer: 'Weir Pale', volumeL: 1000, originalGravitySg: 1.042 };
  const weirFerment = await write({
    ...{ kind: 'ferment', happenedAt: at(46), by, gyle: '412', ...facts },
    vesselId: weirFv1.id,
    strainId: story.strain.id,
  });
  const sent = await write({
    ...{ kind: 'transfer', happenedAt: at(47), by, amountKg: 5 },
    lotId: story.crop.id,
    toSiteId: weir.id,
  });
  return { ...story, home, weir, weirFv1, weirFerment, sent };
}

const nowMs = storyStartMs + 72 * hourMs;
/** The interface on that story three days on, with people of any roles. */
export async function theirApi() {
  const story = await twoSites();
  const { database } = story;
  const app = createApp({ database, now: () => nowMs });
  const signIn = async (userName: string, roles: Role[], siteRoles: SiteRole[]) => {
    const accountId = await anAccount(database, { userName, roles });
    for (const { role, siteId } of siteRoles)
      await database.write([
        {
          sql: 'INSERT INTO account_role (account_id, role, site_id) VALUES (?, ?, ?)',
          args: [accountId, role, siteId],
        },
      ]);
    return aSession(database, { userName, roles, atMs: nowMs });
  };
  const send = async (
    method: string,
    path: string,
    { cookie }: { cookie: string },
    body?: unknown,
  ) => {
    const answer = await app.request(path, {
      method,
      headers: { cookie, origin: 'http://localhost', 'content-type': 'application/json' },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    return { status: answer.status, body: await answer.json() };
  };
  const put = async (as: { cookie: string }, entry: Entry) =>
    (await send('PUT', `/api/entries/${nextId()}`, as, entry)).status;
  return { ...story, app, signIn, send, put };
}
