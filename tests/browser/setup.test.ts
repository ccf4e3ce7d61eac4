import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { useSite } from './useSite.ts';

const here = useSite();

const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();
const focused = (page: Page) => page.evaluate(() => document.activeElement?.textContent ?? '');

async function aPage(size: { width: number; height: number }): Promise<Page> {
  const page = await here.browser.newPage({ viewport: size, timezoneId: 'Europe/London' });
  page.setDefaultTimeout(20_000);
  await here.site.enter(page);
  return page;
}

test('each first step leads to the next, and a time zone is found by its city', {
  timeout: 120_000,
}, async () => {
  const page = await aPage({ width: 390, height: 844 });
  const next = page.locator('.next-step');
  const note = page.locator('.notice');
  await page.getByRole('link', { name: 'Name it' }).click();
  await page.getByLabel('Name of the brewery').fill('Skerry Lane');
  await page.getByLabel('Time zone').fill('Londinium');
  await press(page, 'Save the brewery');
  await page.getByText('is no time zone in the list').first().waitFor();
  expect(await page.getByLabel('Name of the brewery').inputValue()).toBe('Skerry Lane');
  await page.getByLabel('Time zone').fill('london');
  await press(page, 'Save the brewery');

  await next.getByText('Step 2 of 6').waitFor();
  await page.getByText('Europe/London').waitFor();
  expect(await focused(page)).toBe('Add a strain');
  await note.getByRole('link', { name: 'Next: add a strain' }).click();
  await page.getByLabel('Name of the strain').fill('Tern');
  await page.getByLabel('Short code').fill('TN');
  await press(page, 'Save the strain');

  await note.getByRole('link', { name: 'Next: add the FVs' }).click();
  await page.getByLabel('Name of the FV').fill('FV1');
  await press(page, 'Save the FV');

  await note.getByRole('link', { name: 'Next: enter the yeast you have' }).click();
  await page.getByRole('heading', { level: 1, name: 'Fresh culture' }).waitFor();
  await page.close();
});

test('Setup is a line for each part, and an address opens the part it names', {
  timeout: 120_000,
}, async () => {
  const page = await aPage({ width: 390, height: 844 });
  const open = () =>
    page.locator('details.setup-part[open]').evaluateAll((parts) => parts.map(({ id }) => id));
  await page.goto(`${here.site.url}/setup`);
  await page.getByText('FV1', { exact: true }).first().waitFor();
  expect(await open()).toEqual([]);
  expect(
    await page.evaluate(() => document.documentElement.scrollHeight / window.innerHeight),
  ).toBeLessThan(2);
  await page.goto(`${here.site.url}/setup#strains`);
  await page.getByRole('button', { name: 'Change Tern' }).waitFor();
  expect(await open()).toEqual(['strains']);
  expect(await focused(page)).toContain('Strains');
  await page.close();
});

test('the button pressed straight from a box saves, though the box then offers what was meant', {
  timeout: 120_000,
}, async () => {
  const page = await aPage({ width: 1280, height: 900 });
  await page.goto(`${here.site.url}/ferments/new`);
  await page.getByLabel('Gyle number').fill('412');
  await page.getByLabel('Beer').fill('Headland Bitter');
  await page.getByLabel(/^Volume collected/).fill('1600');
  await page.getByLabel(/^Original gravity/).fill('40');
  expect(await page.getByText('Was it').count()).toBe(0);
  await press(page, 'Save the gyle');
  await page.getByRole('heading', { name: 'There is a problem' }).waitFor();
  await page.getByRole('button', { name: '1040', exact: true }).click();
  await press(page, 'Save the gyle');
  await page.getByText('The gyle is written down.').waitFor();
  await page.close();
});
