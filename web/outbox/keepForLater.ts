import { effect } from '@preact/signals';
import {
  fetchCurrentFerments,
  fetchLotsInStore,
  fetchNewestCount,
  fetchNewestCrop,
  fetchNewestStain,
  fetchPlan,
  fetchSetup,
  fetchToday,
} from '../apiClient.ts';
import { entrance } from '../signedIn.ts';
import { author } from './author.ts';

const reads = [
  fetchToday,
  fetchSetup,
  fetchLotsInStore,
  fetchCurrentFerments,
  fetchNewestCrop,
  fetchNewestCount,
  fetchNewestStain,
  fetchPlan,
];
const pages = [
  () => import('../pages/pitch.tsx'),
  () => import('../pages/crop.tsx'),
  () => import('../pages/bench.tsx'),
  () => import('../pages/ferments.tsx'),
  () => import('../pages/ferment.tsx'),
  () => import('../pages/freshCulture.tsx'),
  () => import('../pages/plan.tsx'),
  () => import('../pages/yeast.tsx'),
  () => import('../pages/lot.tsx'),
  () => import('../pages/label.tsx'),
  () => import('../pages/outbox.tsx'),
  () => import('./addWaiting.ts'),
];

const settleMs = 1_500;

/** Fetches what the main forms need, for each who signs in, so that it is here offline. */
export function keepForLater(): void {
  effect(() => {
    // A remembered sign-in may be over: the server says so first.
    if (author.value !== null && entrance.value !== null)
      setTimeout(() => void keepAll(), settleMs);
  });
}

async function keepAll(): Promise<void> {
  for (const read of reads) {
    if (author.value === null) return;
    await read().catch(() => undefined);
  }
  // Where no service worker may keep the pages, an open page still has them in hand.
  if (!globalThis.isSecureContext) for (const load of pages) await load().catch(() => undefined);
}
