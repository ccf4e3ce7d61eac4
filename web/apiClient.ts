import { authorHeader } from '#shared/authorHeader.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { sentAtHeader } from '#shared/entryTiming.ts';
import type { Trace } from '#shared/lineage/trace.ts';
import type { Plan } from '#shared/plan/planView.ts';
import type { FermentSheet, FermentStanding } from '#shared/views/ferments.ts';
import type { LineAtSite, LineSheetAtSite } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { Today } from '#shared/views/today.ts';
import { knownWaiting } from './outbox/queue.ts';
import {
  asked,
  type Problem,
  problemOf,
  read,
  ServerFault,
  server,
  unreachable,
  until,
} from './server.ts';
import { ofChosen, ofOneChosen } from './siteChoice.ts';

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

type PutResult = { saved: Saved } | { problem: Problem };

export const fetchToday = (signal?: AbortSignal): Promise<Today> =>
  read(server.today.$get(ofChosen(), until(signal)));
export async function fetchSetup(signal?: AbortSignal): Promise<Setup> {
  const told = await readSetup(signal);
  const waiting = await knownWaiting();
  if (waiting.length === 0) return told;
  const { lessCollected } = await import('./outbox/addWaiting.ts');
  return lessCollected(told, waiting);
}
export const fetchLotsInStore = async (signal?: AbortSignal): Promise<LotStanding[]> =>
  (await knownWaiting()).length === 0 ? readLots(signal) : (await withWaiting(signal)).lots;
export const fetchCurrentFerments = async (signal?: AbortSignal): Promise<FermentStanding[]> =>
  (await knownWaiting()).length === 0 ? readFerments(signal) : (await withWaiting(signal)).ferments;

export async function fetchLot(id: string, signal?: AbortSignal): Promise<LotPage> {
  const own = readLot(id, signal);
  const listed = await listedInstead(id, own, () => fetchLotsInStore(signal));
  if (listed === undefined) return own;
  // The list tells neither what was written about it nor what was done all the same.
  const told = await own.catch(() => ({ history: [], overrides: [] }));
  return { ...listed, history: told.history, overrides: told.overrides };
}

export async function fetchFerment(
  id: string,
  signal?: AbortSignal,
): Promise<FermentStanding & Partial<FermentSheet>> {
  const own = readFerment(id, signal);
  const listed = await listedInstead(id, own, () => fetchCurrentFerments(signal));
  // What waits is in the list; the band behind the chart is as last told.
  return listed === undefined ? own : { ...(await own.catch(() => ({}))), ...listed };
}

export const fetchLines = async (signal?: AbortSignal): Promise<LineAtSite[]> =>
  (await read(server.lines.$get(ofChosen(), until(signal)))).items;
/** A line at the site named, else at the one looked at. */
export const fetchLine = (
  id: string,
  site: string | undefined,
  signal?: AbortSignal,
): Promise<LineSheetAtSite> =>
  read(
    server.lines[':id'].$get(
      { param: { id }, query: site === undefined ? ofOneChosen() : { site } },
      until(signal),
    ),
  );

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
        headers: {
          [sentAtHeader]: new Date().toISOString(),
          ...(author === null ? {} : { [authorHeader]: author }),
        },
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

const readSetup = (signal?: AbortSignal): Promise<Setup> =>
  read(server.setup.$get(ofChosen(), until(signal)));
const readLots = async (signal?: AbortSignal): Promise<LotStanding[]> =>
  (await read(server.lots['in-store'].$get(ofChosen(), until(signal)))).items;
const readLot = (id: string, signal?: AbortSignal) =>
  read(server.lots[':id'].standing.$get({ param: { id } }, until(signal)));
const readFerments = async (signal?: AbortSignal): Promise<FermentStanding[]> =>
  (await read(server.ferments.current.$get(ofChosen(), until(signal)))).items;
const readFerment = (id: string, signal?: AbortSignal): Promise<FermentSheet> =>
  read(server.ferments[':id'].standing.$get({ param: { id } }, until(signal)));

/** The lots and ferments the log tells of, with what waits on this device added. */
async function withWaiting(signal?: AbortSignal) {
  const { addWaiting } = await import('./outbox/addWaiting.ts');
  const [lots, ferments, setup] = await Promise.all([
    readLots(signal),
    readFerments(signal),
    fetchSetup(signal),
  ]);
  return addWaiting({ lots, ferments, setup }, await knownWaiting(), Date.now());
}

/**
 * As its list tells: when the network is gone or the log does not know it yet, and while something
 * waits to be added.
 *
 * @throws ServerFault  a page is not shown in part as though it were whole
 */
async function listedInstead<T extends { id: string }>(
  id: string,
  own: Promise<unknown>,
  list: () => Promise<readonly T[]>,
): Promise<T | undefined> {
  const isRead = await own.then(
    () => true,
    (reason: unknown) => {
      if (reason instanceof ServerFault) throw reason;
      return false;
    },
  );
  if (isRead && (await knownWaiting()).length === 0) return undefined;
  return (await list().catch(() => [])).find((item) => item.id === id);
}
