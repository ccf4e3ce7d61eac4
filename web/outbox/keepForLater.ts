import {
  fetchCurrentFerments,
  fetchLotsInStore,
  fetchNewestCount,
  fetchNewestCrop,
  fetchNewestStain,
  fetchSetup,
  fetchToday,
} from '../apiClient.ts';

const reads = [
  fetchToday,
  fetchSetup,
  fetchLotsInStore,
  fetchCurrentFerments,
  fetchNewestCrop,
  fetchNewestCount,
  fetchNewestStain,
];
const pages = [
  () => import('../pages/pitch.tsx'),
  () => import('../pages/crop.tsx'),
  () => import('../pages/bench.tsx'),
  () => import('../pages/ferments.tsx'),
  () => import('../pages/ferment.tsx'),
  () => import('../pages/outbox.tsx'),
  () => import('./addWaiting.ts'),
];

/** Fetches once what the main forms need, so that it is here when the network goes. */
export async function keepForLater(): Promise<void> {
  for (const read of reads) await read().catch(() => undefined);
  // Where no service worker may keep the pages, an open page still has them in hand.
  if (!globalThis.isSecureContext) for (const load of pages) await load().catch(() => undefined);
}
