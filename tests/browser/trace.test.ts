import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });

async function aPage(width = 1280): Promise<Page> {
  const context = await here.browser.newContext({ viewport: { width, height: 900 } });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await here.site.enter(page);
  return page;
}

type Item = { id: string; code?: string; lotId?: string };
const items = async (page: Page, path: string): Promise<Item[]> => {
  const reply: { items: Item[] } = await (await page.request.get(`${here.site.url}${path}`)).json();
  return reply.items;
};

async function lotInStore(page: Page): Promise<{ id: string; code: string }> {
  const lots = await items(page, '/api/lots/in-store');
  const lot = lots.find(({ code }) => code?.startsWith('TN-'));
  if (lot?.code === undefined) throw new Error('The demo has no Tern in store.');
  return { id: lot.id, code: lot.code };
}

/** A lot of which some is left, and some was pitched. */
async function pitchedLot(page: Page): Promise<{ id: string; code: string }> {
  const pitched = new Set((await items(page, '/api/pitches')).map(({ lotId }) => lotId));
  const lots = await items(page, '/api/lots/in-store');
  const lot = lots.find(({ id, code }) => pitched.has(id) && code?.startsWith('TN-'));
  if (lot?.code === undefined) throw new Error('The demo has no lot that was pitched in part.');
  return { id: lot.id, code: lot.code };
}

const focused = (page: Page) =>
  page.evaluate(() => document.activeElement?.querySelector('title')?.textContent ?? '');

test('the family of the wild yeast is walked by arrow keys alone, and opened by Enter', async () => {
  const page = await aPage();
  await page.goto(`${here.site.url}/trace`);
  await page.getByLabel('Find what to trace').fill('455');
  await page.getByRole('link', { name: /^455 Gyle/ }).press('Enter');
  await page.getByRole('heading', { level: 1, name: 'Trace of gyle 455' }).waitFor();
  await page.locator('.trace-start').focus();
  expect(await focused(page)).toMatch(/^Gyle 455, .*; the record traced$/);
  await page.keyboard.press('ArrowLeft');
  expect(await focused(page)).toMatch(/^Lot TN-454A, .*something grew; upstream$/);
  await page.getByText('gyle 455 ← TN-454A', { exact: true }).waitFor();
  await page.keyboard.press('Home');
  expect(await focused(page)).toMatch(/; the record traced$/);
  await page.keyboard.press('ArrowRight');
  expect(await focused(page)).toMatch(/^Lot TN-455A, .*; downstream$/);
  await page.keyboard.press('ArrowDown');
  expect(await focused(page)).toMatch(/^Casks 2 batches of 455, /);
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { level: 1, name: 'TN-455A' }).waitFor();
  await page.context().close();
});

test('a family is held in one step, its ferments say so, and it is released in one step', async () => {
  const page = await aPage();
  const { id, code } = await pitchedLot(page);
  await page.goto(`${here.site.url}/trace?of=${id}`);
  await page
    .getByRole('button', { name: `Hold ${code} and all that comes from it` })
    .press('Enter');
  await page.getByLabel('Why must it wait?').fill('<b>Cloves</b>');
  await page.getByRole('button', { name: 'Put the family on hold' }).press('Enter');
  await page.getByText('The family is on hold.').waitFor();
  const ferment = await page.locator('.trace-ferment.trace-attention').first().getAttribute('href');
  await page.goto(`${here.site.url}${ferment}`);
  await page.getByText(/Its family was put on hold .*: <b>Cloves<\/b>\./).waitFor();
  await page.goto(`${here.site.url}/yeast/${id}`);
  await page.getByText(/^On hold since .*: <b>Cloves<\/b>$/).waitFor();
  await page.goto(`${here.site.url}/trace?of=${id}`);
  await page.getByRole('button', { name: 'Release all of it' }).press('Enter');
  await page.getByLabel('Why may it be pitched again?').fill('PCR clear');
  await page.getByRole('button', { name: 'Release it' }).press('Enter');
  await page.getByText('The family is released.').waitFor();
  await expect.poll(() => page.locator('.trace-held').count()).toBe(0);
  await page.context().close();
});

test('a stale correction shows both versions and loses nothing that was typed', async () => {
  const page = await aPage();
  const { id } = await lotInStore(page);
  const correct = async (on: Page, temperature: string, reason: string) => {
    await on
      .getByRole('button', { name: /^Correct Store temperature/ })
      .first()
      .press('Enter');
    await on.getByLabel(/^Temperature of the yeast/).fill(temperature);
    await on.getByLabel('Why is it corrected?').fill(reason);
  };
  await page.goto(`${here.site.url}/yeast/${id}`);
  await correct(page, '3.4', 'Read again');
  const other = await page.context().newPage();
  await other.goto(`${here.site.url}/yeast/${id}`);
  await correct(other, '2.9', 'Misread');
  await other.getByRole('button', { name: 'Save the temperature' }).press('Enter');
  await other.getByText('Corrected.').waitFor();
  await page.getByRole('button', { name: 'Save the temperature' }).press('Enter');
  await page.getByRole('heading', { name: 'Changed meanwhile by Ines' }).waitFor();
  const row = page.getByRole('row', { name: /^Temperature of the yeast/ });
  expect(await row.getByRole('cell').allTextContents()).toEqual(['3.4', '2.9']);
  expect(await page.getByLabel(/^Temperature of the yeast/).inputValue()).toBe('3.4');
  await page.getByRole('button', { name: 'Save mine in its place' }).press('Enter');
  await page.getByText('Corrected.').waitFor();
  const changes = page.getByText(/^Temperature: /);
  expect(await changes.first().locator('s').textContent()).toBe('2.9 °C');
  await page.context().close();
});

test('the clock of an acid wash goes on through a reload', async () => {
  const page = await aPage();
  const { id } = await lotInStore(page);
  await page.goto(`${here.site.url}/yeast/${id}`);
  await page.getByRole('button', { name: /^Acid wash/ }).press('Enter');
  await page.getByRole('button', { name: 'Start the clock' }).press('Enter');
  await page.reload();
  await page.getByText(/since the wash of .* began/).waitFor();
  await page.getByRole('button', { name: 'Stop the clock' }).press('Enter');
  expect(await page.getByLabel(/^How long/).inputValue()).toBe('1');
  await page.context().close();
});

test.each([390, 1280])('at %d px the trace has nothing serious for axe and fits', async (width) => {
  const page = await aPage(width);
  const { id } = await lotInStore(page);
  for (const path of ['/trace', `/trace?of=${id}`, `/records/${id}`]) {
    await page.goto(`${here.site.url}${path}`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.waitForLoadState('networkidle');
    await page.evaluate(axe.source);
    const faults = await page.evaluate(async () => {
      const { axe: checker } = window as unknown as { axe: typeof import('axe-core') };
      const { violations } = await checker.run(document, {
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
      });
      return violations
        .filter(({ impact }) => impact === 'serious' || impact === 'critical')
        .map(({ id: rule, nodes }) => `${rule}: ${nodes.map((node) => node.html).join(' | ')}`);
    });
    expect(faults, path).toEqual([]);
    const overflow = () => document.documentElement.scrollWidth - window.innerWidth;
    expect(await page.evaluate(overflow), path).toBeLessThanOrEqual(0);
  }
  await page.context().close();
});
