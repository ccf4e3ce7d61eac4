import { type ClientResponse, hc } from 'hono/client';
import type { App } from '#api/app.ts';
import { authorHeader } from '#shared/authorHeader.ts';
import type { Entry } from '#shared/entries/entry.ts';
import type { ImportRequest } from '#shared/imports/request.ts';
import type { Trace } from '#shared/lineage/trace.ts';
import type {
  ActivationRequest,
  DeviceTokenRequest,
  FirstAccountRequest,
  NewPasswordRequest,
  NewPersonRequest,
  PersonChange,
  SessionState,
  SignInRequest,
} from '#shared/people.ts';
import type { Plan } from '#shared/plan/planView.ts';
import type { EntryNow } from '#shared/staleEntry.ts';
import type { FermentDetail, FermentPage, FermentStanding } from '#shared/views/ferments.ts';
import type { LineSheet, LineSummary } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { Today } from '#shared/views/today.ts';
import { keeping } from './outbox/keptAnswers.ts';
import { waiting } from './outbox/queue.ts';
import { isDoubted, signedIn } from './signedIn.ts';
import { chosenSite, ofChosen, ofOneChosen } from './siteChoice.ts';

/** A lot as its page shows it, with every entry about it. */
export type LotPage = Awaited<ReturnType<typeof readLot>>;
/** One entry of the journal as it was written, also when it was corrected or struck out later. */
export type JournalRow = LotPage['history'][number];

export type Saved = {
  id: string;
  recordId: string;
  kind: Entry['kind'];
  code?: string | undefined;
  warnings: readonly string[];
  /** It waits on this device, and is not in the log yet. */
  waits?: boolean;
};

/** What stood in the way, in the server's own words. */
export type Problem = {
  status: number;
  code: string;
  title: string;
  detail: string;
  errors: { path: string; message: string }[];
  /** The entry that stands now, where the sender knew it otherwise. */
  current?: EntryNow | undefined;
};

type PutResult = { saved: Saved } | { problem: Problem };

const server = hc<App>('/', { fetch: keeping(fetch) }).api;

export const fetchToday = (signal?: AbortSignal): Promise<Today> =>
  read(server.today.$get(ofChosen(), until(signal)));
export const fetchSetup = (signal?: AbortSignal): Promise<Setup> =>
  read(server.setup.$get(ofChosen(), until(signal)));
export const fetchLotsInStore = async (signal?: AbortSignal): Promise<LotStanding[]> =>
  waiting.value.length === 0 ? readLots(signal) : (await withWaiting(signal)).lots;
export const fetchCurrentFerments = async (signal?: AbortSignal): Promise<FermentStanding[]> =>
  waiting.value.length === 0 ? readFerments(signal) : (await withWaiting(signal)).ferments;

export async function fetchLot(id: string, signal?: AbortSignal): Promise<LotPage> {
  const own = readLot(id, signal);
  const listed = await listedInstead(id, own, () => fetchLotsInStore(signal));
  if (listed === undefined) return own;
  return { ...listed, history: await own.then(({ history }) => history).catch(() => []) };
}

export async function fetchFerment(
  id: string,
  signal?: AbortSignal,
): Promise<FermentStanding & Partial<FermentDetail>> {
  const own = readFerment(id, signal);
  const listed = await listedInstead(id, own, () => fetchCurrentFerments(signal));
  // What waits is in the list; the band behind the chart is as last told.
  return listed === undefined ? own : { ...(await own.catch(() => ({}))), ...listed };
}

export const fetchLines = async (signal?: AbortSignal): Promise<LineSummary[]> =>
  (await read(server.lines.$get(ofChosen(), until(signal)))).items;
export const fetchLine = (id: string, signal?: AbortSignal): Promise<LineSheet> =>
  read(server.lines[':id'].$get({ param: { id } }, until(signal)));

export const fetchPlan = (signal?: AbortSignal): Promise<Plan> =>
  read(server.plan.$get({ query: ofOneChosen() }, until(signal)));

/** How the file of the log is kept. */
export const fetchUpkeep = (signal?: AbortSignal) => read(server.upkeep.$get({}, until(signal)));
export type UpkeepReport = Awaited<ReturnType<typeof fetchUpkeep>>;
export const backUpNow = () =>
  asked(server.upkeep.backups.$post({}, until(AbortSignal.timeout(120_000))));

/** The family of a record, and what can be traced by a code, a gyle or a cask batch. */
export const fetchTrace = (of: string, signal?: AbortSignal): Promise<Trace> =>
  read(server.trace.$get({ query: { of } }, until(signal)));
export const fetchTraceable = async (q: string, signal?: AbortSignal): Promise<Traceable[]> =>
  (await read(server.trace.search.$get({ query: { q } }, until(signal)))).items;
export type Traceable = Awaited<
  ReturnType<Awaited<ReturnType<typeof server.trace.search.$get>>['json']>
>['items'][number];

/** Every entry about a ferment, and every entry of one record, struck out ones too. */
export const fetchFermentHistory = async (
  id: string,
  signal?: AbortSignal,
): Promise<JournalRow[]> =>
  (await read(server.ferments[':id'].history.$get({ param: { id } }, until(signal)))).items;
export const fetchRecordHistory = async (id: string, signal?: AbortSignal): Promise<JournalRow[]> =>
  (await read(server.records[':id'].history.$get({ param: { id } }, until(signal)))).items;

/** The newest count, stain and crop start the next form of their kind. */
export const fetchNewestCount = async (signal?: AbortSignal) =>
  (await read(server.counts.$get(newest(), until(signal)))).items[0];
export const fetchNewestStain = async (signal?: AbortSignal) =>
  (await read(server.stains.$get(newest(), until(signal)))).items[0];
export const fetchNewestCrop = async (signal?: AbortSignal) =>
  (await read(server.crops.$get(newest(), until(signal)))).items[0];
const newest = () => ({ query: { limit: '1', ...ofOneChosen() } });

/**
 * Writes an entry down; the same id and body may be sent again without harm.
 *
 * @param author  the account it was made under; the server refuses it under another
 */
export async function putEntry(
  id: string,
  entry: Entry,
  author: string | null,
): Promise<PutResult> {
  try {
    const response = await server.entries[':id'].$put(
      { param: { id }, json: entry },
      {
        ...until(AbortSignal.timeout(15_000)),
        ...(author === null ? {} : { headers: { [authorHeader]: author } }),
      },
    );
    if (!response.ok) return { problem: await problemOf(response) };
    const saved = await response.json();
    // A captive portal answers 200 with its own page: only an echo of the id counts as saved.
    return saved.id === id ? { saved } : { problem: unreachable };
  } catch {
    return { problem: unreachable };
  }
}

export type ImportPreview = Answered<typeof previewImport>;
export type ImportRun = Awaited<ReturnType<typeof fetchImports>>[number];

export const fetchImports = async (signal?: AbortSignal) =>
  (await read(server.imports.$get({}, until(signal)))).items;
/** Tries files of old records; nothing is written. */
export const previewImport = (json: ImportRequest) =>
  asked(server.imports.preview.$post({ json }, until(AbortSignal.timeout(120_000))));
/** Brings files of old records in, all or nothing. */
export const putImport = (id: string, json: ImportRequest) =>
  asked(server.imports[':id'].$put({ param: { id }, json }, until(AbortSignal.timeout(120_000))));
export const undoImport = (id: string, json: { reason: string }) =>
  asked(server.imports[':id'].undo.$post({ param: { id }, json }, until(undefined)));

export const fetchSession = (signal?: AbortSignal): Promise<SessionState> =>
  read(server.session.$get({}, until(signal)));
export const fetchPassphrase = async () => (await read(server.passphrase.$get())).passphrase;
export const signIn = (json: SignInRequest) => asked(server.session.$post({ json }));
export const signOut = () => asked(server.session.$delete());
export const giveProof = (password: string) =>
  asked(server.session.proofs.$post({ json: { password } }));
export const makeFirstAccount = (json: FirstAccountRequest) =>
  asked(server['first-account'].$post({ json }));
export const activate = (json: ActivationRequest) => asked(server.activations.$post({ json }));

export const changePassword = (json: NewPasswordRequest) =>
  asked(server.account.password.$put({ json }));
export const fetchOwnSessions = async (signal?: AbortSignal) =>
  (await read(server.account.sessions.$get({}, until(signal)))).items;
export const endOwnSession = (id: string) =>
  asked(server.account.sessions[':id'].$delete({ param: { id } }));
export const fetchFeedKeys = async (signal?: AbortSignal) =>
  (await read(server.account['feed-keys'].$get({}, until(signal)))).items;
export const makeFeedKey = () => asked(server.account['feed-keys'].$post());
export const revokeFeedKey = (id: string) =>
  asked(server.account['feed-keys'][':id'].$delete({ param: { id } }));

export const fetchPeople = async (signal?: AbortSignal) =>
  (await read(server.people.$get({}, until(signal)))).items;
export const makePerson = (json: NewPersonRequest) => asked(server.people.$post({ json }));
export const changePerson = (id: string, json: PersonChange) =>
  asked(server.people[':id'].$put({ param: { id }, json }));
export const issueCode = (id: string) => asked(server.people[':id'].codes.$post({ param: { id } }));
export const fetchSessionsOf = async (id: string, signal?: AbortSignal) =>
  (await read(server.people[':id'].sessions.$get({ param: { id } }, until(signal)))).items;
export const endSessionOf = (id: string, session: string) =>
  asked(server.people[':id'].sessions[':session'].$delete({ param: { id, session } }));
export const fetchDeviceTokens = async (signal?: AbortSignal) =>
  (await read(server['device-tokens'].$get({}, until(signal)))).items;
export const makeDeviceToken = (json: DeviceTokenRequest) =>
  asked(server['device-tokens'].$post({ json }));
export const revokeDeviceToken = (id: string) =>
  asked(server['device-tokens'][':id'].$delete({ param: { id } }));
export const fetchSecurityEvents = async (signal?: AbortSignal) =>
  (await read(server['security-events'].$get({}, until(signal)))).items;

export type Asked<T> = { answer: T } | { problem: Problem };
type Answered<F extends (...input: never[]) => Promise<Asked<unknown>>> = Extract<
  Awaited<ReturnType<F>>,
  { answer: unknown }
>['answer'];

async function asked<T>(sent: Promise<ClientResponse<T, number, 'json'>>): Promise<Asked<T>> {
  try {
    const response = await sent;
    return response.ok ? { answer: await response.json() } : { problem: await problemOf(response) };
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

const readLots = async (signal?: AbortSignal): Promise<LotStanding[]> =>
  (await read(server.lots['in-store'].$get(ofChosen(), until(signal)))).items;
const readLot = (id: string, signal?: AbortSignal) =>
  read(server.lots[':id'].standing.$get({ param: { id } }, until(signal)));
const readFerments = async (signal?: AbortSignal): Promise<FermentStanding[]> =>
  (await read(server.ferments.current.$get(ofChosen(), until(signal)))).items;
const readFerment = (id: string, signal?: AbortSignal): Promise<FermentPage> =>
  read(server.ferments[':id'].standing.$get({ param: { id } }, until(signal)));

/** The lots and ferments the log tells of, with what waits on this device added. */
async function withWaiting(signal?: AbortSignal) {
  const { addWaiting } = await import('./outbox/addWaiting.ts');
  const [lots, ferments, setup] = await Promise.all([
    readLots(signal),
    readFerments(signal),
    fetchSetup(signal),
  ]);
  return addWaiting({ lots, ferments, setup }, waiting.value, Date.now());
}

/** As its list tells: when its own page cannot be had, and while something waits to be added. */
async function listedInstead<T extends { id: string }>(
  id: string,
  own: Promise<unknown>,
  list: () => Promise<readonly T[]>,
): Promise<T | undefined> {
  const isRead = await own.then(
    () => true,
    () => false,
  );
  if (isRead && waiting.value.length === 0) return undefined;
  return (await list().catch(() => [])).find((item) => item.id === id);
}

const until = (signal: AbortSignal | undefined) => ({ init: { signal: signal ?? null } });

async function read<T>(answer: Promise<ClientResponse<T, 200, 'json'>>): Promise<T> {
  const response = await answer;
  if (!response.ok) {
    // A site that the log no longer knows: the pages then load what the server takes.
    const status: number = response.status;
    if (status === 404 && new URL(response.url).searchParams.has('site')) chosenSite.value = null;
    throw new Error((await problemOf(response)).detail);
  }
  return response.json();
}

async function problemOf(response: Pick<Response, 'status' | 'json'>): Promise<Problem> {
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
  };
}
