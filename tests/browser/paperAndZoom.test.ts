import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });

const folded = (page: Page) => page.locator('details:not([open])').count();

async function first(page: Page, path: string): Promise<string> {
  const { items } = await (await page.request.get(`${here.site.url}${path}`)).json();
  return String(items[0].id);
}

/** What may not be on a sheet: headings over nothing, controls, text under 9 pt, what goes past its edge. */
function faultsOnPaper(): string[] {
  const smallestPx = 12;
  const isSeen = (element: Element) => element.checkVisibility({ visibilityProperty: true });
  const main = document.querySelector('main') ?? document.body;
  const faults = [...document.querySelectorAll('button, input, select, textarea, nav, a.button')]
    .filter((control) => isSeen(control))
    .map((control) => `control: ${control.outerHTML.slice(0, 60)}`);
  const headings = [...main.querySelectorAll('h1, h2, h3, h4, summary')].filter(isSeen);
  const texts: Text[] = [];
  const walker = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode as Text;
    const parent = text.parentElement;
    if (text.data.trim() !== '' && parent !== null && isSeen(parent)) texts.push(text);
  }
  for (const text of texts) {
    const parent = text.parentElement as Element;
    if (parent.closest('.unseen, svg') !== null) continue;
    const range = document.createRange();
    range.selectNodeContents(text);
    const box = range.getBoundingClientRect();
    if (box.right > document.documentElement.clientWidth + 1 || box.left < -1)
      faults.push(`past the edge: ${text.data.trim().slice(0, 60)}`);
    if (Number.parseFloat(getComputedStyle(parent).fontSize) < smallestPx - 0.01)
      faults.push(`small: ${text.data.trim().slice(0, 60)}`);
  }
  const level = (heading: Element | undefined) => Number(heading?.tagName.at(1) ?? 0) || 9;
  const below = (heading: Element, next: Element | undefined) => (text: Text) =>
    !heading.contains(text) &&
    (heading.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING) !== 0 &&
    !next?.contains(text) &&
    (next === undefined ||
      (next.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_PRECEDING) !== 0);
  for (const [at, heading] of headings.entries()) {
    const next = headings[at + 1];
    const isPartOf = heading.tagName === 'SUMMARY' && heading.contains(next ?? null);
    const leadsOn = next !== undefined && level(next) > level(heading);
    if (!isPartOf && !leadsOn && heading.closest('summary') === null)
      if (!texts.some(below(heading, next))) faults.push(`over nothing: ${heading.textContent}`);
  }
  return faults;
}

test('a sheet says whose it is, when and by whom, and holds nothing to press, cut off or empty', {
  timeout: 180_000,
}, async () => {
  // The width of an A4 sheet between its margins.
  const page = await here.browser.newPage({ viewport: { width: 703, height: 1000 } });
  page.setDefaultTimeout(20_000);
  await here.site.enter(page);
  const lot = await first(page, '/api/lots/in-store');
  const ferment = await first(page, '/api/ferments/current');
  const line = await first(page, '/api/lines');
  const paths = [
    ...['/', '/yeast', `/yeast/${lot}`, '/pitch', `/pitch?lot=${lot}`, '/yeast/blend'],
    ...['/yeast/new', `/pitch/sheet?ferment=${ferment}`, '/crop', `/crop?ferment=${ferment}`],
    ...['/bench', `/bench?lot=${lot}`, '/ferments', '/ferments/new', `/ferments/${ferment}`],
    ...['/lines', `/lines/${line}`, '/plan', '/trace', `/trace?of=${lot}`, `/records/${lot}`],
    ...['/setup', '/setup/records', '/people'],
  ];
  const faults: string[] = [];
  for (const path of paths) {
    await page.emulateMedia({ media: 'screen' });
    await page.goto(`${here.site.url}${path}`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.waitForLoadState('networkidle');
    await page.emulateMedia({ media: 'print' });
    await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
    const head = await page.locator('.head').textContent();
    if (!head?.includes('Wrackstone Harbour Brewery')) faults.push(`${path}: no brewery`);
    if (!/Printed \w{3} \d+ \w+ \d{4}, \d\d:\d\d, by Ines/.test(head ?? ''))
      faults.push(`${path}: not when and by whom`);
    const isPrinted = await page.locator('.printed').isVisible();
    if (!isPrinted) faults.push(`${path}: not shown when and by whom`);
    faults.push(...(await page.evaluate(faultsOnPaper)).map((fault) => `${path}: ${fault}`));
  }
  await page.close();
  expect(faults).toEqual([]);
});

test('what is folded lies open on paper save the longest sums, and is folded again after', {
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
      const still = [...document.querySelectorAll('details:not([open])')];
      dataset.foldedOnPaper = String(
        still.filter((one) => !one.matches('.folded-on-paper')).length,
      );
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
    const lot = await first(page, '/api/lots/in-store');
    const ferment = await first(page, '/api/ferments/current');
    const line = await first(page, '/api/lines');
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
