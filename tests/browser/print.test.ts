import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchChromium } from './chromium.ts';
import { type Site, startSite } from './site.ts';

let browser: Browser;
let site: Site;
beforeAll(async () => {
  browser = await launchChromium();
  site = await startSite({ isDemo: true });
}, 300_000);
afterAll(async () => {
  await browser?.close();
  await site?.close();
}, 60_000);

const folded = (page: Page) => page.locator('details:not([open])').count();

test('what is folded lies open on paper, and is folded again after', {
  timeout: 120_000,
}, async () => {
  const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  page.setDefaultTimeout(20_000);
  await site.enter(page);
  await page.goto(`${site.url}/plan`);
  await page.getByRole('heading', { name: 'Yeast in store and to come' }).waitFor();
  const before = await folded(page);
  expect(before).toBeGreaterThan(5);
  await page.evaluate(() => {
    addEventListener('beforeprint', () => {
      const { dataset } = document.documentElement;
      dataset.foldedOnPaper = String(document.querySelectorAll('details:not([open])').length);
    });
  });
  await page.pdf();
  expect(await page.evaluate(() => document.documentElement.dataset.foldedOnPaper)).toBe('0');
  expect(await folded(page)).toBe(before);
  await page.close();
});
