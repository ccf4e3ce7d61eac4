import type { Entry } from '#shared/entries/entry.ts';
import { fetchCurrentFerments, fetchLotsInStore, fetchSetup } from '../apiClient.ts';

/** What records are called, by id: "TN-535A", "gyle 535 Sarn Point Gold", "FV2". */
export type RecordNames = ReadonlyMap<string, string>;

/** The names of what can be told on this device, also without a connection. */
export async function fetchRecordNames(signal?: AbortSignal): Promise<RecordNames> {
  const [lots, ferments, setup] = await Promise.all([
    fetchLotsInStore(signal).catch(() => []),
    fetchCurrentFerments(signal).catch(() => []),
    fetchSetup(signal).catch(() => undefined),
  ]);
  return new Map([
    ...(setup?.strains ?? []).map(({ id, name }) => [id, name] as const),
    ...(setup?.vessels ?? []).map(({ id, name }) => [id, name] as const),
    ...ferments.map(({ id, record }) => [id, `gyle ${record.gyle} ${record.beer}`] as const),
    ...lots.map(({ id, code }) => [id, code] as const),
  ]);
}

/** The records an entry is about, in the order it names them. */
export function namesIn(entry: Entry, names: RecordNames): string[] {
  const found = valuesIn(entry).flatMap((value) => names.get(value) ?? []);
  return [...new Set(found)];
}

function valuesIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(valuesIn) : [];
}
