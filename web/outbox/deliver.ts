import type { Entry } from '#shared/entries/entry.ts';
import { putEntry, type Saved } from '../apiClient.ts';
import type { Problem } from '../server.ts';
import { author } from './author.ts';
import { isReachable } from './keptAnswers.ts';
import { AnotherPersons, enqueue, takeOut } from './queue.ts';
import { sendNow } from './sendingTimes.ts';
import { type Outcome, stopListening, whenAnswered } from './sendWaiting.ts';

type Made = { id: string; entry: Entry };
/** What the log took; and what it said to the first it refused, behind which none was sent. */
type Delivery = { saved: Saved[]; refusal?: { problem: Problem; index: number } };

const patienceMs = { reachable: 5_000, unsure: 1_500, offline: 0 };

/**
 * Keeps the entries of a form on this device, then tries to send them. What the log could not be
 * told in good time waits, and counts as saved; what it refused at once goes back to the form, unless
 * it `stays` in the queue, where it was before.
 */
export async function deliver(made: readonly Made[], { stays = false } = {}): Promise<Delivery> {
  const answers = made.map(({ id }) => whenAnswered(id));
  try {
    await enqueue(made);
  } catch (error) {
    if (error instanceof AnotherPersons)
      return { saved: [], refusal: { problem: notTheirs(error.message), index: 0 } };
    return sendUnkept(made);
  }
  void sendNow();
  const outcomes = await Promise.race([allOrRefused(answers), givenUp()]);
  stopListening(made.map(({ id }) => id));
  if (outcomes === undefined) return { saved: made.map(kept) };
  const index = outcomes.findIndex((outcome) => 'problem' in outcome);
  const first = outcomes[index];
  const saved = outcomes.flatMap((outcome) => ('saved' in outcome ? [outcome.saved] : []));
  if (first === undefined || !('problem' in first)) return { saved };
  if (!stays) await takeOut(made.map(({ id }) => id));
  return { saved, refusal: { problem: first.problem, index } };
}

const notTheirs = (detail: string): Problem => ({
  status: 403,
  code: 'not_theirs',
  title: 'This entry is another person’s',
  detail,
  errors: [],
});

/** The answers up to the first refusal, behind which the others of the form wait. */
async function allOrRefused(answers: readonly Promise<Outcome>[]): Promise<Outcome[]> {
  const outcomes: Outcome[] = [];
  for (const answer of answers) {
    const outcome = await answer;
    outcomes.push(outcome);
    if ('problem' in outcome) break;
  }
  return outcomes;
}

function givenUp(): Promise<undefined> {
  const { reachable, unsure, offline } = patienceMs;
  const ms = navigator.onLine ? (isReachable.value === false ? unsure : reachable) : offline;
  return new Promise((resolve) => setTimeout(() => resolve(undefined), ms));
}

/** How an entry that waits is told to the page that made it. */
function kept({ id, entry }: Made): Saved {
  return {
    id,
    recordId: id,
    kind: entry.kind,
    warnings: [],
    waits: true,
    ...('code' in entry && entry.kind !== 'strain' ? { code: entry.code } : {}),
  };
}

// A device that keeps nothing still sends; the form then holds what was typed.
async function sendUnkept(made: readonly Made[]): Promise<Delivery> {
  const saved: Saved[] = [];
  for (const [index, { id, entry }] of made.entries()) {
    const result = await putEntry(id, entry, author.value);
    if ('problem' in result) return { saved, refusal: { problem: result.problem, index } };
    saved.push(result.saved);
  }
  return { saved };
}
