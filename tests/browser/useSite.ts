import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { launchChromium } from './chromium.ts';
import { type Site, startSite } from './site.ts';

/** A browser and a running site for the tests of one file, there before the first and closed after. */
export function useSite(options: Parameters<typeof startSite>[0] = {}): {
  readonly browser: Browser;
  readonly site: Site;
} {
  let browser: Browser | undefined;
  let site: Site | undefined;
  beforeAll(async () => {
    browser = await launchChromium();
    site = await startSite(options);
  }, 300_000);
  afterAll(async () => {
    await browser?.close();
    await site?.close();
  }, 60_000);
  const started = <T>(part: T | undefined): T => {
    if (part === undefined) throw new Error('The site is there only while tests run.');
    return part;
  };
  return {
    get browser() {
      return started(browser);
    },
    get site() {
      return started(site);
    },
  };
}
