import type { Entry, RecordKind } from '#shared/entries/entry.ts';
import type {
  FermentStanding,
  LineStanding,
  LotStanding,
  Recorded,
  Setup,
  Today,
} from '#shared/views.ts';

/** One entry of the journal as it was written, also when it was corrected or struck out later. */
export type JournalRow = {
  id: string;
  seq: number;
  kind: Entry['kind'];
  supersedes: string | null;
  reason: string | null;
  by: string;
  happenedAt: string;
  receivedAt: string;
  body: Entry;
};

export type LotPage = LotStanding & { history: JournalRow[] };

export type Saved = {
  id: string;
  recordId: string;
  seq: number;
  kind: Entry['kind'];
  code?: string;
  warnings: string[];
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

const nouns = {
  strain: 'strains',
  vessel: 'vessels',
  ferment: 'ferments',
  pitch: 'pitches',
  reading: 'readings',
  crop: 'crops',
  count: 'counts',
  stain: 'stains',
  storeReading: 'store-readings',
  microCheck: 'micro-checks',
  microResult: 'micro-results',
  treatment: 'treatments',
  discard: 'discards',
  plannedBrew: 'planned-brews',
  hold: 'holds',
  release: 'releases',
} as const satisfies Partial<Record<RecordKind, string>>;
export type ListedKind = keyof typeof nouns;

export const fetchToday = (signal?: AbortSignal) => read<Today>('/today', signal);
export const fetchSetup = (signal?: AbortSignal) => read<Setup>('/setup', signal);
export const fetchLotsInStore = async (signal?: AbortSignal) =>
  (await read<{ items: LotStanding[] }>('/lots/in-store', signal)).items;
export const fetchLot = (id: string, signal?: AbortSignal) =>
  read<LotPage>(`/lots/${id}/standing`, signal);
export const fetchCurrentFerments = async (signal?: AbortSignal) =>
  (await read<{ items: FermentStanding[] }>('/ferments/current', signal)).items;
export const fetchFerment = (id: string, signal?: AbortSignal) =>
  read<FermentStanding>(`/ferments/${id}/standing`, signal);
export const fetchLines = async (signal?: AbortSignal) =>
  (await read<{ items: LineStanding[] }>('/lines', signal)).items;
export const fetchLine = (id: string, signal?: AbortSignal) =>
  read<LineStanding>(`/lines/${id}`, signal);

/** One page of the records of a kind, newest first. */
export function fetchRecords<K extends ListedKind>(
  kind: K,
  { limit = 50, before }: { limit?: number; before?: number } = {},
  signal?: AbortSignal,
) {
  const from = before === undefined ? '' : `&before=${before}`;
  return read<{ items: Recorded<K>[]; next: number | null }>(
    `/${nouns[kind]}?limit=${limit}${from}`,
    signal,
  );
}

/** Writes an entry down; the same id and body may be sent again without harm. */
export async function putEntry(id: string, entry: Entry): Promise<PutResult> {
  try {
    const response = await fetch(`/api/entries/${id}`, {
      method: 'PUT',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(entry),
      signal: AbortSignal.timeout(15_000),
    });
    if (!response.ok) return { problem: await problemOf(response) };
    const saved: Saved = await response.json();
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

async function read<T>(path: string, signal?: AbortSignal): Promise<T> {
  const response = await fetch(`/api${path}`, {
    headers: { accept: 'application/json' },
    ...(signal === undefined ? {} : { signal }),
  });
  if (!response.ok) throw new Error((await problemOf(response)).detail);
  return response.json();
}

async function problemOf(response: Response): Promise<Problem> {
  const body: Partial<Problem> = await response.json().catch(() => ({}));
  return {
    status: response.status,
    code: body.code ?? 'unknown',
    title: body.title ?? 'The server refused this',
    detail: body.detail ?? `The server answered ${response.status}.`,
    errors: body.errors ?? [],
  };
}
