import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { dayMs } from '#shared/durations.ts';
import { uuidV7 } from '#shared/uuid.ts';
import type { Setup } from '#shared/views/setup.ts';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });
const pictures = 'tests/browser/screens';

async function setupOf(page: Page): Promise<Setup> {
  return (await page.request.get(`${here.site.url}/api/setup`)).json();
}

/** Writes down a brew planned for five days ago, of which no gyle came. */
async function planLateBrew(page: Page): Promise<void> {
  const { strains } = await setupOf(page);
  const id = uuidV7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
  const answer = await page.request.put(`${here.site.url}/api/entries/${id}`, {
    headers: { origin: here.site.url, 'content-type': 'application/json' },
    data: JSON.stringify({
      ...{ kind: 'plannedBrew', happenedAt: new Date().toISOString(), by: 'Ines' },
      ...{ onDay: new Date(Date.now() - 5 * dayMs).toISOString().slice(0, 10) },
      ...{ beer: 'Harbour Light', volumeL: 1500, originalGravitySg: 1.034 },
      strainId: strains.find(({ name }) => name === 'Tern')?.id,
    }),
  });
  expect(answer.status(), await answer.text()).toBe(201);
}

const planned = (page: Page) => page.getByLabel('Planned brew', { exact: true });
const chosen = (page: Page) => planned(page).locator('option:checked').textContent();

async function collectIt(page: Page, gyle: string, vessel: string): Promise<void> {
  await page.getByLabel('Gyle number').fill(gyle);
  await page.getByLabel('FV', { exact: true }).selectOption({ label: vessel });
  await page.getByRole('button', { name: 'Save the gyle' }).click();
  await page.getByText('The gyle is written down.').waitFor();
}

const openPlan = async (page: Page) => {
  await page.goto(`${here.site.url}/plan`);
  await page.getByRole('heading', { level: 2, name: 'Brews ahead' }).waitFor();
};

test('a planned brew is collected from the plan, and one five days late under another name', {
  timeout: 240_000,
}, async () => {
  const context = await here.browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  await here.site.enter(page);
  await planLateBrew(page);

  // Tomorrow's brew, a day early: its figures are there, and only the number is to be typed.
  await openPlan(page);
  const brews = page.locator('.plan-brews > li');
  const before = await brews.count();
  const mild = brews.filter({ hasText: 'Groyne Mild' });
  await mild.locator('summary').first().click();
  await mild.getByRole('link', { name: 'Collect it' }).click();
  await expect.poll(() => chosen(page)).toContain('Groyne Mild');
  expect(await page.getByLabel('Beer', { exact: true }).inputValue()).toBe('Groyne Mild');
  await page.screenshot({ path: `${pictures}/collect-planned-390.png`, fullPage: true });
  await collectIt(page, '601', 'FV1');
  await page.getByText('It carries out the brew planned for').waitFor();
  await openPlan(page);
  // It asks for yeast as a gyle, once.
  expect(await brews.count()).toBe(before);
  expect(await brews.filter({ hasText: 'Groyne Mild' }).count()).toBe(1);

  // The late one is asked for, and goes by what was chosen, whatever its name.
  await page.locator('#not-brewed').getByText('Harbour Light').first().waitFor();
  await page.screenshot({ path: `${pictures}/plan-not-brewed-390.png`, fullPage: true });
  await page.goto(`${here.site.url}/ferments/new`);
  expect(await chosen(page)).toBe('Not a planned brew');
  await page.getByLabel('Beer', { exact: true }).fill('Festival Light');
  const late = planned(page).locator('option', { hasText: 'Harbour Light' });
  await planned(page).selectOption(await late.getAttribute('value'));
  const beer = page.getByLabel('Beer', { exact: true });
  expect(await beer.inputValue()).toBe('Festival Light');
  expect(await page.getByLabel(/^Volume collected/).inputValue()).toBe('1500');
  await collectIt(page, '602', 'FV6');
  await openPlan(page);
  expect(await page.locator('#not-brewed').count()).toBe(0);

  // Undone, it is asked for again.
  const { plannedBrews, notBrewed } = await setupOf(page);
  expect([...plannedBrews, ...notBrewed].map((brew) => brew.beer)).not.toContain('Harbour Light');
  await page.goto(`${here.site.url}/ferments`);
  await page.getByRole('link', { name: /602/ }).first().click();
  await page.getByRole('button', { name: 'Strike out the gyle' }).click();
  await page.getByLabel('Why is it struck out?').fill('Another brew after all');
  await page.getByRole('button', { name: 'Strike it out' }).click();
  await page.getByText('The gyle is struck out.').waitFor();
  await openPlan(page);
  await page.locator('#not-brewed').getByText('Harbour Light').first().waitFor();
  expect(faults).toEqual([]);
});
