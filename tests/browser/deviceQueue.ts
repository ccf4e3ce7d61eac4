import type { Page } from 'playwright-core';
import { vi } from 'vitest';

export type Queued = { id: string; entry: { kind: string; happenedAt: string; by: string } };

/** What waits on the device, read from the browser's own store and not from the page. */
export function queueOf(page: Page): Promise<Queued[]> {
  return page.evaluate(
    () =>
      new Promise<Queued[]>((resolve, reject) => {
        const opening = indexedDB.open('barmbook');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const store = opening.result.transaction('waiting').objectStore('waiting');
          const all = store.getAll();
          all.onsuccess = () => {
            opening.result.close();
            resolve(all.result);
          };
        };
      }),
  );
}

/** Waits until the pages and the answers that the main forms need are kept on the device. */
export async function readyForOffline(page: Page): Promise<void> {
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  // A promise counts as true at once in the page's own waiting, so the asking is done from here.
  await vi.waitUntil(
    async () => {
      const kept = await keptPaths(page);
      return needed.every((path) => kept.some((name) => name.startsWith(`/api/${path}`)));
    },
    { timeout: 60_000, interval: 200 },
  );
}

const needed = [
  'today',
  'setup',
  'lots/in-store',
  'ferments/current',
  'crops?',
  'counts?',
  'stains?',
  'plan',
];

const keptPaths = (page: Page): Promise<string[]> =>
  page.evaluate(
    () =>
      new Promise<string[]>((resolve) => {
        const opening = indexedDB.open('barmbook');
        opening.onsuccess = () => {
          const answers = opening.result.transaction('answers').objectStore('answers');
          const kept = answers.getAllKeys();
          kept.onsuccess = () => {
            opening.result.close();
            resolve(kept.result.map(String));
          };
        };
      }),
  );

/** Makes every page of a context believe it is so much later or earlier than it is. */
export function shiftedClock(byMs: number): string {
  return `{
    const Real = Date;
    const shifted = class extends Real {
      constructor(...parts) {
        if (parts.length === 0) super(Real.now() + ${byMs});
        else super(...parts);
      }
      static now() {
        return Real.now() + ${byMs};
      }
    };
    globalThis.Date = shifted;
  }`;
}

/** Makes everything that waits on the device so much older than it is. */
export const madeEarlier = (page: Page, byMs: number): Promise<void> =>
  page.evaluate(
    (ms) =>
      new Promise<void>((resolve) => {
        const opening = indexedDB.open('barmbook');
        opening.onsuccess = () => {
          const write = opening.result.transaction('waiting', 'readwrite');
          const store = write.objectStore('waiting');
          const all = store.getAll();
          all.onsuccess = () => {
            for (const item of all.result) store.put({ ...item, madeMs: item.madeMs - ms });
          };
          write.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      }),
    byMs,
  );
