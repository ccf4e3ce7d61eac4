import { type ClientResponse, hc } from 'hono/client';
import type { App } from '#api/app.ts';
import type { Entry } from '#shared/entries/entry.ts';
import type { FermentStanding, LineStanding, LotStanding, Setup, Today } from '#shared/views.ts';

/** A lot as its page shows it, with every entry about it. */
export type LotPage = Awaited<ReturnType<typeof fetchLot>>;
/** One entry of the journal as it was written, also when it was corrected or struck out later. */
export type JournalRow = LotPage['history'][number];

export type Saved = {
  id: string;
  recordId: string;
  seq: number;
  kind: Entry['kind'];
  code?: string | undefined;
  warnings: readonly string[];
};

/** What stood in the way, in the server's own words. */
export type Problem = {
  status: number;
  code: string;
  title: string;
  detail: string;
  errors: { path: string; message: string }[];
};

export type PutResult = { saved: Saved } | { problem: Problem };

const server = hc<App>('/').api;

export const fetchToday = (signal?: AbortSignal): Promise<Today> =>
  read(server.today.$get({}, until(signal)));
export const fetchSetup = (signal?: AbortSignal): Promise<Setup> =>
  read(server.setup.$get({}, until(signal)));
export const fetchLotsInStore = async (signal?: AbortSignal): Promise<LotStanding[]> =>
  (await read(server.lots['in-store'].$get({}, until(signal)))).items;
export const fetchLot = (id: string, signal?: AbortSignal) =>
  read(server.lots[':id'].standing.$get({ param: { id } }, until(signal)));
export const fetchCurrentFerments = async (signal?: AbortSignal): Promise<FermentStanding[]> =>
  (await read(server.ferments.current.$get({}, until(signal)))).items;
export const fetchFerment = (id: string, signal?: AbortSignal): Promise<FermentStanding> =>
  read(server.ferments[':id'].standing.$get({ param: { id } }, until(signal)));
export const fetchLines = async (signal?: AbortSignal): Promise<LineStanding[]> =>
  (await read(server.lines.$get({}, until(signal)))).items;
export const fetchLine = (id: string, signal?: AbortSignal): Promise<LineStanding> =>
  read(server.lines[':id'].$get({ param: { id } }, until(signal)));

/** The newest count, stain and crop start the next form of their kind. */
export const fetchNewestCount = async (signal?: AbortSignal) =>
  (await read(server.counts.$get(newest, until(signal)))).items[0];
export const fetchNewestStain = async (signal?: AbortSignal) =>
  (await read(server.stains.$get(newest, until(signal)))).items[0];
export const fetchNewestCrop = async (signal?: AbortSignal) =>
  (await read(server.crops.$get(newest, until(signal)))).items[0];
const newest = { query: { limit: '1' } };

/** Writes an entry down; the same id and body may be sent again without harm. */
export async function putEntry(id: string, entry: Entry): Promise<PutResult> {
  try {
    const response = await server.entries[':id'].$put(
      { param: { id }, json: entry },
      until(AbortSignal.timeout(15_000)),
    );
    if (!response.ok) return { problem: await problemOf(response) };
    const saved = await response.json();
    // A captive portal answers 200 with its own page: only an echo of the id counts as saved.
    return saved.id === id ? { saved } : { problem: unreachable };
  } catch {
    return { problem: unreachable };
  }
}

const unreachable: Problem = {
  status: 0,
  code: 'unreachable',
  title: 'The server could not be reached',
  detail: 'What you typed is kept on this device. Press the button again when you are connected.',
  errors: [],
};

const until = (signal: AbortSignal | undefined) => ({ init: { signal: signal ?? null } });

async function read<T>(answer: Promise<ClientResponse<T, 200, 'json'>>): Promise<T> {
  const response = await answer;
  if (!response.ok) throw new Error((await problemOf(response)).detail);
  return response.json();
}

async function problemOf(response: Pick<Response, 'status' | 'json'>): Promise<Problem> {
  const body: Partial<Problem> = await response.json().catch(() => ({}));
  return {
    status: response.status,
    code: body.code ?? 'unknown',
    title: body.title ?? 'The server refused this',
    detail: body.detail ?? `The server answered ${response.status}.`,
    errors: body.errors ?? [],
  };
}
