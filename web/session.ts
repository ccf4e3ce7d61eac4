import type { Person } from '#shared/people.ts';
import { fetchSession, signOut } from './apiClient.ts';
import { author, signInNeeded } from './outbox/author.ts';
import { forgetAnswers } from './outbox/keptAnswers.ts';
import { keep, kept, person } from './settings.ts';
import { entrance, signedIn } from './signedIn.ts';

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
  author.value = who?.id ?? null;
});
signInNeeded.subscribe((isNeeded) => {
  if (isNeeded) signedIn.value = null;
});

/** Asks the server who is signed in; without an answer the last one stands. */
export async function refreshSession(): Promise<void> {
  const { person: who, ...how } = await fetchSession();
  entrance.value = how;
  signedIn.value = who;
}

let lastId = signedIn.value?.id;

/** Takes in who has just signed in; the pages beneath load again as when they come into view. */
export async function enter(who: Person): Promise<void> {
  if (who.id !== lastId) await forgetAnswers().catch(() => undefined);
  lastId = who.id;
  signedIn.value = who;
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
