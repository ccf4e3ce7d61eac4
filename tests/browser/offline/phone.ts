import type { BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { expect } from 'vitest';
import { queueOf } from '../deviceQueue.ts';
import { useSite } from '../useSite.ts';
import { type Hand, hand } from './hand.ts';

type Ferment = { id: string; state: string; hoursSincePitch: number; vessel: string };
type Lot = { id: string; code: string; ageHours: number; verdict: { verdict: string } };
type Written = {
  id: string;
  seq: number;
  happenedAt: string;
  receivedAt: string;
  by: string;
  clockFastMs: number;
  timeRemarks: string[];
};
type Opened = { context: BrowserContext; page: Page; at: Hand };

export const onPhone = { viewport: { width: 390, height: 844 } };

/** Phones at the demo for the tests of one file, and what its log holds as the server answers it. */
export function usePhone() {
  const here = useSite({ isDemo: true });
  const items = async <T>(page: Page, path: string): Promise<T[]> => {
    const body: { items: T[] } = await (await page.request.get(`${here.site.url}${path}`)).json();
    return body.items;
  };
  return {
    get site() {
      return here.site;
    },
    /** A phone on which Ines is signed in; the script, if any, runs before each of its pages. */
    open: async (options: BrowserContextOptions = {}, script?: string): Promise<Opened> => {
      const context = await here.browser.newContext({ ...onPhone, ...options });
      if (script !== undefined) await context.addInitScript(script);
      const page = await context.newPage();
      page.setDefaultTimeout(30_000);
      await here.site.enter(page);
      return { context, page, at: hand(page, here.site.url) };
    },
    items,
    /** What the demo has to work on: running ferments, and lots that are some hours old. */
    known: async (page: Page) => {
      const ferments = await items<Ferment>(page, '/api/ferments/current');
      const running = ferments.filter(
        ({ state, hoursSincePitch }) => state === 'fermenting' && hoursSincePitch > 12,
      );
      const lots = await items<Lot>(page, '/api/lots/in-store');
      const [ferment] = running;
      const lot = lots.find(({ ageHours }) => ageHours > 4);
      if (ferment === undefined || lot === undefined)
        throw new Error('The demo has too little yeast.');
      return { running, ferment, lot };
    },
    /** Those of these entries that the log holds, in the order it took them. */
    written: async (page: Page, ids: readonly string[]): Promise<Written[]> => {
      const found = await items<Written>(page, '/api/entries?limit=100');
      return found.filter(({ id }) => ids.includes(id)).toSorted((a, b) => a.seq - b.seq);
    },
  };
}

export const waits = (page: Page, count: number) =>
  page.getByRole('link', { name: `${count} waiting` }).waitFor();

// Between two tries a device waits for 75 s at most.
export const allSent = (page: Page) =>
  expect.poll(() => queueOf(page), { timeout: 150_000, interval: 250 }).toEqual([]);
