import { mkdirSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { faultsOf } from './faultsOf.ts';
import { useSite } from './useSite.ts';

const pictures = 'tests/browser/screens';
mkdirSync(pictures, { recursive: true });
const here = useSite({ isDemo: true });

const choiceOf = (page: Page) => page.getByLabel('Site', { exact: true });

async function open(page: Page, path: string) {
  await page.goto(`${here.site.url}${path}`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForLoadState('networkidle');
}

async function addASecondSite(page: Page) {
  await open(page, '/setup#sites');
  expect(await choiceOf(page).count()).toBe(0);
  await page.getByRole('button', { name: 'Brew at a second site' }).click();
  await page.getByLabel('Where you brew now').fill('Quay');
  await page.getByLabel('Short code of it').fill('q');
  await page.getByLabel('The second site').fill('Weir');
  await page.getByLabel('Short code of the second').fill('w');
  await page.getByRole('button', { name: 'Save both sites' }).click();
  await choiceOf(page).waitFor();
  expect(await choiceOf(page).locator('option').allTextContents()).toEqual([
    'Quay',
    'Weir',
    'All sites',
  ]);
}

async function choose(page: Page, name: string) {
  await choiceOf(page).selectOption(name);
  await page.waitForLoadState('networkidle');
}

/** Sends two kilograms of the best lot in store, and gives the code it bore. */
async function sendYeast(page: Page): Promise<string> {
  await open(page, '/yeast');
  const lot = page.locator('.lot-code').first();
  const code = (await lot.textContent()) ?? '';
  await lot.click();
  await page.getByRole('heading', { level: 1, name: code }).waitFor();
  await page.getByRole('button', { name: 'Send it to another site' }).click();
  await page.getByText('Keep it cold all the way').waitFor();
  await page.getByText('never a tight one').waitFor();
  await page.getByLabel(/^Amount sent/).fill('2');
  await page.getByRole('button', { name: 'Record it as sent' }).click();
  await page.getByText(`${code} is recorded as sent to Weir.`).waitFor();
  return code;
}

/** A brewer everywhere becomes one of a single site. */
async function moveTomToWeir(page: Page) {
  await open(page, '/people');
  await page.getByRole('button', { name: 'Change Tom' }).click();
  const everywhere = page.getByRole('group', { name: 'Roles at every site' });
  await everywhere.getByLabel(/^Brewer/).uncheck();
  const there = page.getByRole('group', { name: 'Only at Weir' });
  await there.getByLabel('Brewer', { exact: true }).check();
  await page.screenshot({ path: `${pictures}/sites_roles-1280.png`, fullPage: true });
  await page.getByRole('button', { name: 'Save the change' }).click();
  await page.getByText('tom · Brewer at Weir').waitFor();
}

/** Whoever has one site has no choice to make, and sees which it is. */
async function seeAsTom() {
  const context = await here.browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await page.goto(here.site.url);
  await page.getByLabel('User name').fill('tom');
  await page.getByLabel('Password', { exact: true }).fill('skim-at-high-tide');
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await page.locator('.site-choice').waitFor();
  expect(await page.locator('.site-choice').textContent()).toBe('Site: Weir');
  await open(page, '/yeast');
  expect(await page.locator('.lot-code').allTextContents()).toEqual([expect.stringMatching(/-W$/)]);
  await context.close();
}

test('a second site is added, chosen, given an FV and sent yeast, which is traced back', {
  timeout: 300_000,
}, async () => {
  const context = await here.browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  const look = async (path: string) => {
    for (const width of [1280, 390]) {
      await page.setViewportSize({ width, height: 844 });
      await open(page, path);
      const file = path.replace(/[0-9a-f-]{36}/, 'one').replace(/[/?=]+/g, '_');
      await page.screenshot({ path: `${pictures}/sites${file}-${width}.png`, fullPage: true });
      faults.push(...(await faultsOf(page)).map((fault) => `${path} at ${width}: ${fault}`));
    }
    await page.setViewportSize({ width: 1280, height: 900 });
  };
  await here.site.enter(page);
  await addASecondSite(page);

  await choose(page, 'Weir');
  await page.getByLabel('Name of the FV').fill('FV1');
  expect(await page.getByLabel('Site', { exact: true }).last().inputValue()).toBe(
    await choiceOf(page).first().inputValue(),
  );
  await page.getByRole('button', { name: 'Save the FV' }).click();
  await page.getByText('The FV is written down.').waitFor();
  await open(page, '/yeast');
  await page.getByText('No yeast is in store').waitFor();

  await choose(page, 'Quay');
  const code = await sendYeast(page);
  await page.getByRole('link', { name: `There it is ${code}-W` }).click();
  await page.getByText('This is at Weir; the lists show Quay.').waitFor();
  await page.getByRole('button', { name: 'Show Weir' }).click();
  await page.getByText(', sent here').waitFor();
  const arrival = new URL(page.url()).pathname.split('/').at(-1) ?? '';

  // The device remembers what it looks at.
  await open(page, '/yeast');
  expect(await page.locator('.lot-code').allTextContents()).toEqual([`${code}-W`]);
  await look('/yeast');
  await look(`/yeast/${arrival}`);
  await look(`/label?lot=${arrival}`);
  await page.getByText('· Weir').first().waitFor();

  await look(`/trace?of=${arrival}`);
  const upstream = page.getByRole('table', { name: 'All it came from' });
  await expect
    .poll(() => upstream.locator('tr', { hasText: code }).first().textContent())
    .toContain('Quay');

  await open(page, `/yeast/${arrival}`);
  await page.getByRole('link', { name: 'Its line' }).click();
  const places = page.getByRole('navigation', { name: 'The line at each site' }).getByRole('link');
  await places.first().waitFor();
  expect(await places.allTextContents()).toEqual(['At Quay', 'At Weir']);
  expect(await places.nth(1).getAttribute('aria-current')).toBe('true');
  await look(new URL(page.url()).pathname);

  // With all sites, what two sites call alike is told apart.
  await choose(page, 'All sites');
  await open(page, '/ferments/new');
  const vessels = await page.getByLabel('FV', { exact: true }).locator('option').allTextContents();
  expect(vessels.filter((text) => text.startsWith('FV1'))).toEqual([
    expect.stringContaining('FV1 · Quay'),
    'FV1 · Weir',
  ]);
  for (const path of ['/', '/yeast', '/ferments', '/crop', '/bench', '/pitch', '/lines', '/setup'])
    await look(path);
  await look('/plan');
  await page.getByRole('button', { name: 'Weir', exact: true }).click();
  await page.getByRole('heading', { level: 2, name: 'Planned brews' }).waitFor();
  await look('/setup/records');
  await look('/people');

  // By keys alone, as with any choice.
  await open(page, '/');
  await choiceOf(page).focus();
  await page.keyboard.press('ArrowUp');
  await expect.poll(() => choiceOf(page).locator('option:checked').textContent()).toBe('Quay');

  await moveTomToWeir(page);
  await context.close();
  await seeAsTom();
  expect(faults).toEqual([]);
});
