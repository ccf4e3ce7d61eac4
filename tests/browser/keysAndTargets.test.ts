import type { Locator, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { keyboard } from './keyboard.ts';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });

type Size = { width: number; height: number };

async function aPage(viewport: Size): Promise<Page> {
  const page = await here.browser.newPage({ viewport, serviceWorkers: 'block' });
  page.setDefaultTimeout(20_000);
  await here.site.enter(page);
  return page;
}

async function open(page: Page, path: string): Promise<void> {
  await page.goto(`${here.site.url}${path}`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForLoadState('networkidle');
}

async function first(page: Page, path: string): Promise<string> {
  const { items } = await (await page.request.get(`${here.site.url}${path}`)).json();
  return String(items[0].id);
}

const focusComesTo = (target: Locator) =>
  expect.poll(() => target.evaluate((element) => element === document.activeElement)).toBe(true);

test('what opens gives the focus back when it closes, and Escape closes a dialog and the menu', {
  timeout: 120_000,
}, async () => {
  const page = await aPage({ width: 390, height: 844 });
  const { press, reach } = keyboard(page);
  const lot = await first(page, '/api/lots/in-store');

  const menu = page.getByRole('button', { name: 'You are Ines' });
  await press('You are Ines');
  await reach(page.getByRole('button', { name: 'Sign out' }));
  await page.keyboard.press('Escape');
  await focusComesTo(menu);
  expect(await page.getByRole('button', { name: 'Sign out' }).count()).toBe(0);

  await open(page, `/yeast/${lot}`);
  const strike = page.getByRole('button', { name: /^Strike out/ }).first();
  await reach(strike);
  await page.keyboard.press('Enter');
  await press('Leave it as it was');
  await focusComesTo(strike);

  await open(page, `/bench?lot=${lot}`);
  await press('Tally at the microscope');
  await page.getByRole('dialog').waitFor();
  await page.keyboard.press('Escape');
  await focusComesTo(page.getByRole('button', { name: 'Tally at the microscope' }).first());
  await press('Someone else');
  await focusComesTo(page.getByLabel('Your name'));

  await open(page, '/people');
  // As the server answers once the password was given long ago.
  await page.route('**/api/people/*/codes', (route) =>
    route.fulfill({
      status: 403,
      contentType: 'application/problem+json',
      body: JSON.stringify({ code: 'prove_again', title: 'The password again', status: 403 }),
    }),
  );
  await reach(page.locator('summary', { hasText: 'Tom' }));
  await page.keyboard.press('Enter');
  await press('New code for Tom');
  await page.getByRole('dialog', { name: 'Your password once more' }).waitFor();
  await page.keyboard.press('Escape');
  await focusComesTo(page.getByRole('button', { name: 'New code for Tom' }));
  await page.close();
});

/** Each place Tab comes to: what it is, and what is wrong with it there. */
async function walk(page: Page): Promise<string[]> {
  const faults: string[] = [];
  for (let stops = 0; stops < 150; stops += 1) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(() => {
      const element = document.activeElement;
      if (element === null || element === document.body) return null;
      if (element.hasAttribute('data-walked')) return null;
      element.setAttribute('data-walked', '');
      const holder = element.closest('.choice-option, .file-button') ?? element;
      const box = holder.getBoundingClientRect();
      const hasRing = [element, holder].some((each) => {
        const { outlineStyle, outlineWidth } = getComputedStyle(each);
        return outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
      });
      const own = element.getBoundingClientRect();
      const inView = (at: number, end: number) => Math.min(Math.max(at, 1), end - 2);
      const top = document.elementFromPoint(
        inView(own.left + own.width / 2, innerWidth),
        own.top + Math.min(own.height, 40) / 2,
      );
      const isCovered = top === null || !(element.contains(top) || top.contains(element));
      const isOfWork = element.matches('form *, .actions *, nav *');
      const isInWords = getComputedStyle(element).display === 'inline';
      const least = isOfWork ? 44 : 24;
      const isSmall = !isInWords && Math.min(box.width, box.height) < least;
      return {
        what: `${element.tagName} ${element.id || element.textContent?.trim().slice(0, 40)}`,
        faults: [
          ...(hasRing ? [] : ['no ring']),
          ...(isCovered ? ['covered'] : []),
          ...(isSmall ? [`${Math.round(box.width)} by ${Math.round(box.height)} px`] : []),
        ],
      };
    });
    if (stop === null) {
      expect(stops).toBeGreaterThan(10);
      return faults;
    }
    if (stop.faults.length > 0) faults.push(`${stop.what}: ${stop.faults.join(', ')}`);
  }
  throw new Error('Tab does not come to an end.');
}

test('on the pages of wet hands Tab comes to nothing that is hidden, ringless or too small', {
  timeout: 180_000,
}, async () => {
  const page = await aPage({ width: 390, height: 844 });
  const lot = await first(page, '/api/lots/in-store');
  const ferment = await first(page, '/api/ferments/current');
  const paths = [
    `/crop?ferment=${ferment}`,
    `/pitch?lot=${lot}`,
    `/bench?lot=${lot}`,
    `/ferments/${ferment}`,
  ];
  const faults: string[] = [];
  for (const path of paths) {
    await open(page, path);
    faults.push(...(await walk(page)).map((fault) => `${path}: ${fault}`));
  }
  await page.close();
  expect(faults).toEqual([]);
});

test('a phone at twice its size shows the crop, not bars over it, and its figures unbroken', {
  timeout: 120_000,
}, async () => {
  const size = { width: 195, height: 422 };
  const page = await aPage(size);
  const ferment = await first(page, '/api/ferments/current');
  await open(page, `/crop?ferment=${ferment}`);
  const barsPx = await page.evaluate(() =>
    [...document.querySelectorAll('body *')]
      .filter((element) => /fixed|sticky/.test(getComputedStyle(element).position))
      .reduce((sum, element) => sum + element.getBoundingClientRect().height, 0),
  );
  expect(barsPx).toBeLessThan(size.height / 5);
  const steppers = await page.locator('.stepper').evaluateAll((buttons) =>
    buttons.map((button) => {
      const words = document.createRange();
      words.selectNodeContents(button);
      return {
        lines: new Set([...words.getClientRects()].map(({ top }) => Math.round(top))).size,
        isWide: button.getBoundingClientRect().width >= 44,
      };
    }),
  );
  expect(steppers).toEqual(Array.from({ length: 4 }, () => ({ lines: 1, isWide: true })));
  const person = page.getByRole('button', { name: 'You are Ines' });
  const name = await person.evaluate((button) => {
    const words = document.createRange();
    // The words before it are for the ear alone.
    words.selectNodeContents(button.lastChild ?? button);
    return words.getBoundingClientRect().right;
  });
  expect(name).toBeLessThan(size.width - 10);
  await page.close();
});
