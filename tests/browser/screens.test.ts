import { mkdirSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchChromium, policyReports } from './chromium.ts';
import { faultsOf } from './faultsOf.ts';
import { type Site, startSite } from './site.ts';

const pictures = 'tests/browser/screens';
let browser: Browser;
let empty: Site;
let demo: Site;
beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  browser = await launchChromium();
  empty = await startSite();
  demo = await startSite({ isDemo: true });
}, 300_000);
afterAll(async () => {
  await browser?.close();
  await empty?.close();
  await demo?.close();
}, 60_000);

type Item = { id: string };
const first = async (page: Page, path: string): Promise<string> => {
  const { items }: { items: Item[] } = await (await page.request.get(`${demo.url}${path}`)).json();
  const [item] = items;
  if (item === undefined) throw new Error(`The demo has nothing under ${path}.`);
  return item.id;
};

const views = [
  { width: 390, height: 844, colorScheme: 'light' },
  { width: 390, height: 844, colorScheme: 'dark' },
  { width: 1280, height: 900, colorScheme: 'light' },
  { width: 1280, height: 900, colorScheme: 'dark' },
] as const;

test.each(views)(
  'every screen at $width px, $colorScheme, has nothing serious for axe and fits its width',
  { timeout: 300_000 },
  async ({ width, height, colorScheme }) => {
    const context = await browser.newContext({ viewport: { width, height }, colorScheme });
    const reports = await policyReports(context);
    const page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await empty.enter(page);
    await demo.enter(page);
    const lot = await first(page, '/api/lots/in-store');
    const ferment = await first(page, '/api/ferments/current');
    const line = await first(page, '/api/lines');
    const common = [
      '/',
      '/yeast',
      '/pitch',
      '/crop',
      '/bench',
      '/ferments',
      '/lines',
      '/plan',
      '/setup',
      '/people',
      '/yeast/new',
      '/yeast/blend',
      '/ferments/new',
      '/pitch/sheet',
      '/trace',
      '/setup/records',
      '/label',
      '/outbox',
      '/no-such-page',
    ];
    const visits = [
      ...common.map((path) => ({ site: empty, name: 'empty', path })),
      ...common.map((path) => ({ site: demo, name: 'demo', path })),
      ...[
        `/yeast/${lot}`,
        `/pitch?lot=${lot}`,
        `/bench?lot=${lot}`,
        `/crop?ferment=${ferment}`,
        `/ferments/${ferment}`,
        `/pitch/sheet?ferment=${ferment}`,
        `/trace?of=${lot}`,
        `/records/${lot}`,
        `/label?lot=${lot}`,
        `/lines/${line}`,
      ].map((path) => ({ site: demo, name: 'demo', path })),
    ];
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(`${page.url()}: ${error.message}`));
    for (const { site, name, path } of visits) {
      await page.goto(`${site.url}${path}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await page.waitForLoadState('networkidle');
      const file = path.replace(/[0-9a-f-]{36}/, 'one').replace(/[/?=]+/g, '_');
      await page.screenshot({
        path: `${pictures}/${name}${file}-${width}-${colorScheme}.png`,
        fullPage: true,
      });
      faults.push(...(await faultsOf(page)).map((fault) => `${name} ${path}: ${fault}`));
    }
    await context.close();
    expect(faults).toEqual([]);
    expect(reports).toEqual([]);
  },
);
