import { type ClientResponse, hc } from 'hono/client';
import type { App } from '#api/app.ts';
import type { EntryNow } from '#shared/staleEntry.ts';
import { keeping } from './outbox/keptAnswers.ts';
import { isDoubted, signedIn } from './signedIn.ts';
import { chosenSite } from './siteChoice.ts';

/** What stood in the way, in the server's own words. */
export type Problem = {
  status: number;
  code: string;
  title: string;
  detail: string;
  errors: { path: string; message: string }[];
  /** The entry that stands now, where the sender knew it otherwise. */
  current?: EntryNow | undefined;
  /** How long to wait before the next attempt [s]. */
  retryAfterS?: number | undefined;
};

/** Every route by its path, typed as the server answers it. */
export const server = hc<App>('/', { fetch: keeping(fetch) }).api;

export type Asked<T> = { answer: T } | { problem: Problem };
/** What the server answers to such a request when it does as asked. */
export type Answered<F extends (...input: never[]) => Promise<Asked<unknown>>> = Extract<
  Awaited<ReturnType<F>>,
  { answer: unknown }
>['answer'];

/** Sends a request; what stood in the way is a value, not an error. */
export async function asked<T>(
  sent: Promise<ClientResponse<T, number, 'json'>>,
): Promise<Asked<T>> {
  try {
    const response = await sent;
    return response.ok ? { answer: await response.json() } : { problem: await problemOf(response) };
  } catch {
    return { problem: unreachable };
  }
}

export const unreachable: Problem = {
  status: 0,
  code: 'unreachable',
  title: 'The server could not be reached',
  detail: 'What you typed is kept on this device. Press the button again when you are connected.',
  errors: [],
};

export const until = (signal: AbortSignal | undefined) => ({ init: { signal: signal ?? null } });

/** The server answered that what was asked for is not in the log, or that no record has such an id. */
export class NotInTheLog extends Error {}

/** The server was reached and could not answer. */
export class ServerFault extends Error {}

/**
 * What the server answers.
 *
 * @throws Error in its own words when it refuses, NotInTheLog and ServerFault among them
 */
export async function read<T>(answer: Promise<ClientResponse<T, 200, 'json'>>): Promise<T> {
  const response = await answer;
  if (!response.ok) {
    // A site that the log no longer knows: the pages then load what the server takes.
    const status: number = response.status;
    if (status === 404 && new URL(response.url).searchParams.has('site')) chosenSite.value = null;
    const { detail } = await problemOf(response);
    if (status === 404 || status === 422) throw new NotInTheLog(detail);
    throw status === 500 ? new ServerFault(detail) : new Error(detail);
  }
  return response.json();
}

export async function problemOf(
  response: Pick<Response, 'status' | 'json' | 'headers'>,
): Promise<Problem> {
  const body: Partial<Problem> = await response.json().catch(() => ({}));
  // Whatever the page was about to do, it first asks who is there.
  if (body.code === 'signed_out') signedIn.value = null;
  if (body.code === 'other_author') isDoubted.value = true;
  return {
    status: response.status,
    code: body.code ?? 'unknown',
    title: body.title ?? 'The server refused this',
    detail: body.detail ?? `The server answered ${response.status}.`,
    errors: body.errors ?? [],
    current: body.current,
    retryAfterS: Number(response.headers.get('retry-after') ?? 0) || undefined,
  };
}
