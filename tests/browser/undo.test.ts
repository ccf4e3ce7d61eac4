import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { queueOf, readyForOffline } from './deviceQueue.ts';
import { useSite } from './useSite.ts';

const phone = { viewport: { width: 390, height: 844 } };
const pictures = 'tests/browser/screens';
const here = useSite({ isDemo: true });

async function aPage(): Promise<Page> {
  const page = await (await here.browser.newContext(phone)).newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  return page;
}

type Row = {
  id: string;
  kind: string;
  supersedes: string | null;
  reason: string | null;
  by: string;
};

async function newest(page: Page): Promise<Row> {
  const { items }: { items: Row[] } = await (
    await page.request.get(`${here.site.url}/api/entries?limit=1`)
  ).json();
  const [row] = items;
  if (row === undefined) throw new Error('The log is empty.');
  return row;
}

async function aRunningFerment(page: Page): Promise<string> {
  const path = `${here.site.url}/api/ferments/current`;
  const { items }: { items: { id: string; state: string; hoursSincePitch: number }[] } = await (
    await page.request.get(path)
  ).json();
  const running = items.find(
    ({ state, hoursSincePitch }) => state === 'fermenting' && hoursSincePitch > 12,
  );
  if (running === undefined) throw new Error('Nothing ferments in the demo.');
  return running.id;
}

const undoButton = (page: Page) => page.getByRole('button', { name: 'Undo', exact: true });

async function saveReading(page: Page, gravity: string): Promise<void> {
  await page
    .getByRole('textbox', { name: /^Gravity/ })
    .first()
    .fill(gravity);
  await page.getByRole('button', { name: 'Save the reading' }).click();
  await page.getByText('The reading is written down.').waitFor();
}

async function openFerment(page: Page, id: string): Promise<void> {
  await page.goto(`${here.site.url}/ferments/${id}`);
  await page.getByRole('button', { name: 'Save the reading' }).waitFor();
}

test('what was just saved is taken back by key, and stays legible in the history', {
  timeout: 300_000,
}, async () => {
  const page = await aPage();
  const id = await aRunningFerment(page);
  await openFerment(page, id);
  await saveReading(page, '1013.5');
  const saved = await newest(page);
  await undoButton(page).waitFor();
  // In sight, though the form saved from is far down the page.
  const box = await undoButton(page).boundingBox();
  expect(box?.y).toBeGreaterThan(0);
  expect(box?.y).toBeLessThan(phone.viewport.height);
  await page.screenshot({ path: `${pictures}/undo-390.png` });

  // By the keyboard alone: from the heading on to the first thing the note offers.
  await page.getByRole('heading', { level: 1 }).focus();
  await page.keyboard.press('Tab');
  await expect
    .poll(() => undoButton(page).evaluate((button) => button === document.activeElement))
    .toBe(true);
  await page.keyboard.press('Enter');
  await page.getByText('Undone:').waitFor();

  const undone = await newest(page);
  expect([saved.kind, undone.kind]).toEqual(['reading', 'void']);
  expect(undone).toMatchObject({ supersedes: saved.id, reason: 'Saved by mistake', by: 'Ines' });
  const standing: { readings: { id: string }[] } = await (
    await page.request.get(`${here.site.url}/api/ferments/${id}/standing`)
  ).json();
  expect(standing.readings.map((reading) => reading.id)).not.toContain(saved.id);
  await page.getByText('Saved by mistake').first().waitFor();
  expect(await page.evaluate(() => document.activeElement?.id)).toBe('main');
  expect(await undoButton(page).count()).toBe(0);
  await page.context().close();
});

test('the offer stands until the next save or until the page is left', {
  timeout: 300_000,
}, async () => {
  const page = await aPage();
  const id = await aRunningFerment(page);
  await openFerment(page, id);
  await saveReading(page, '1013.4');
  const first = await newest(page);
  await page.getByRole('button', { name: 'Close this note' }).waitFor();
  await saveReading(page, '1013.3');
  await expect.poll(async () => (await newest(page)).id).not.toBe(first.id);
  const second = await newest(page);
  await undoButton(page).click();
  await page.getByText('Undone:').waitFor();
  expect(await newest(page)).toMatchObject({ kind: 'void', supersedes: second.id });

  await saveReading(page, '1013.2');
  await undoButton(page).waitFor();
  await page.getByRole('link', { name: 'Yeast', exact: true }).first().click();
  await page.getByRole('heading', { level: 1, name: 'Yeast in store' }).waitFor();
  await expect.poll(() => undoButton(page).count()).toBe(0);
  await page.context().close();
});

test('an undone crop gives its form back, and a lot that is no more is left', {
  timeout: 300_000,
}, async () => {
  const page = await aPage();
  await page.goto(`${here.site.url}/crop?ferment=${await aRunningFerment(page)}`);
  await page
    .getByRole('button', { name: /More amount/ })
    .first()
    .click();
  await page.getByRole('button', { name: 'Save the crop' }).click();
  await page.getByRole('heading', { name: 'Cropped' }).waitFor();
  await undoButton(page).click();
  await page.getByRole('button', { name: 'Save the crop' }).waitFor();
  expect(await newest(page)).toMatchObject({ kind: 'void', reason: 'Saved by mistake' });

  await page.goto(`${here.site.url}/yeast/new`);
  await page.getByRole('button', { name: 'Write it down' }).waitFor();
  const strain = page.getByLabel('Strain', { exact: true });
  if ((await strain.count()) > 0) await strain.selectOption({ index: 1 });
  await page.getByText('Bought', { exact: false }).first().click();
  await page
    .getByRole('textbox', { name: /^Amount/ })
    .first()
    .fill('5');
  await page.getByRole('button', { name: 'Write it down' }).click();
  await page.waitForURL(/\/yeast\/[0-9a-f-]{36}$/);
  await page.getByText('is in store.').waitFor();
  await undoButton(page).click();
  await page.waitForURL(/\/yeast\/new$/);
  await page.getByText('Undone:').waitFor();
  await page.context().close();
});

test('what still waits on the device is just taken out again', {
  timeout: 300_000,
}, async () => {
  const page = await aPage();
  const id = await aRunningFerment(page);
  await readyForOffline(page);
  const before = await newest(page);
  await openFerment(page, id);
  await page.context().setOffline(true);
  await saveReading(page, '1013.1');
  await page.getByText('Kept on this device').first().waitFor();
  expect((await queueOf(page)).map(({ entry }) => entry.kind)).toEqual(['reading']);
  await undoButton(page).click();
  await page.getByText('Undone:').waitFor();
  expect(await queueOf(page)).toEqual([]);
  await page.context().setOffline(false);
  await page.reload();
  await page.getByRole('heading', { level: 1 }).waitFor();
  expect((await newest(page)).id).toBe(before.id);
  await page.context().close();
});

test('a cellar hand may not strike out, so is offered it only for what still waits', {
  timeout: 300_000,
}, async () => {
  const page = await (await here.browser.newContext(phone)).newPage();
  page.setDefaultTimeout(30_000);
  await page.goto(here.site.url);
  await page.getByLabel('User name').fill('maeve');
  await page.getByLabel('Password', { exact: true }).fill('skim-at-high-tide');
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await page.getByRole('heading', { level: 1, name: 'Today' }).waitFor();
  const id = await aRunningFerment(page);
  await readyForOffline(page);
  await openFerment(page, id);
  await saveReading(page, '1013');
  expect(await undoButton(page).count()).toBe(0);
  await page.context().setOffline(true);
  await saveReading(page, '1012.9');
  await undoButton(page).waitFor();
  await page.context().setOffline(false);
  await expect.poll(() => undoButton(page).count(), { timeout: 60_000 }).toBe(0);
  await page.context().close();
});
