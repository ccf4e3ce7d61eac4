import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });

const folded = (page: Page) => page.locator('details:not([open])').count();

test('what is folded lies open on paper, and is folded again after', {
  timeout: 120_000,
}, async () => {
  const page = await here.browser.newPage({ viewport: { width: 390, height: 844 } });
  page.setDefaultTimeout(20_000);
  await here.site.enter(page);
  await page.goto(`${here.site.url}/plan`);
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

/** A desk and a phone at twice the size: 640 and 195 px of the page's own. */
test.each([640, 195])(
  'at twice the size, %i px wide, nothing goes past the edge of a page',
  { timeout: 180_000 },
  async (width) => {
    const context = await here.browser.newContext({
      viewport: { width, height: 422 },
      deviceScaleFactor: 2,
    });
    const page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await here.site.enter(page);
    const first = async (path: string) => {
      const { items } = await (await page.request.get(`${here.site.url}${path}`)).json();
      return String(items[0].id);
    };
    const lot = await first('/api/lots/in-store');
    const ferment = await first('/api/ferments/current');
    const line = await first('/api/lines');
    const paths = [
      ...['/', '/yeast', `/yeast/${lot}`, '/pitch', '/crop', `/crop?ferment=${ferment}`],
      ...['/bench', `/bench?lot=${lot}`, '/ferments', `/ferments/${ferment}`, '/lines'],
      ...[`/lines/${line}`, '/plan', `/trace?of=${lot}`, '/setup', '/people', '/label'],
    ];
    const tooWide: string[] = [];
    for (const path of paths) {
      await page.goto(`${here.site.url}${path}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await page.waitForLoadState('networkidle');
      const over = await page.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
        return document.documentElement.scrollWidth - window.innerWidth;
      });
      if (over > 0) tooWide.push(`${path}: ${over} px`);
    }
    await context.close();
    expect(tooWide).toEqual([]);
  },
);
