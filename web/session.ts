import type { Person } from '#shared/people.ts';
import { keep, kept } from './deviceMemory.ts';
import { author, holder, signInNeeded } from './outbox/author.ts';
import { forgetAnswers } from './outbox/keptAnswers.ts';
import { fetchSession, signOut } from './peopleClient.ts';
import { person } from './settings.ts';
import { entrance, isDoubted, signedIn } from './signedIn.ts';

const place = 'barmbook.signedIn';

/** Who was signed in when this device last heard; the pages then work without a connection too. */
function remembered(): Person | undefined {
  try {
    return JSON.parse(kept(place) ?? 'null') ?? undefined;
  } catch {
    return undefined;
  }
}

signedIn.value = remembered();
signedIn.subscribe((who) => {
  if (who === undefined) return;
  keep(place, who === null ? null : JSON.stringify(who));
  person.value = who?.name ?? '';
  if (who !== null) holder.value = { id: who.id, name: who.name };
  author.value = who?.id ?? null;
});
signInNeeded.subscribe((isNeeded) => {
  if (isNeeded) signedIn.value = null;
});
isDoubted.subscribe((isSo) => {
  if (!isSo) return;
  const settled = () => {
    isDoubted.value = false;
  };
  refreshSession().then(settled, settled);
});
// Another tab shares the session: who signs in there is signed in here.
addEventListener('storage', ({ key }) => {
  if (key === place) void takeIn(remembered() ?? null);
});

let lastId = signedIn.value?.id;

/** What one person read is not kept for the next. */
async function takeIn(who: Person | null): Promise<void> {
  if (who !== null && who.id !== lastId) {
    lastId = who.id;
    await forgetAnswers().catch(() => undefined);
  }
  signedIn.value = who;
}

/** Asks the server who is signed in; without an answer the last one stands. */
export async function refreshSession(): Promise<void> {
  const { person: who, ...how } = await fetchSession();
  entrance.value = how;
  await takeIn(who);
}

/** Takes in who has just signed in; the pages beneath load again as when they come into view. */
export async function enter(who: Person): Promise<void> {
  await takeIn(who);
  signInNeeded.value = false;
  if (entrance.value !== null) entrance.value = { ...entrance.value, isNew: false };
  dispatchEvent(new Event('online'));
}

/** Signs out and takes what was read off this device; what waits to be sent stays. */
export async function leave(): Promise<void> {
  await signOut();
  await forgetAnswers().catch(() => undefined);
  signedIn.value = null;
  await refreshSession().catch(() => undefined);
}
