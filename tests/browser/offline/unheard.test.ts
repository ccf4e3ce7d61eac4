import { expect, test } from 'vitest';
import { queueOf } from '../deviceQueue.ts';
import { allSent, usePhone } from './phone.ts';

const phone = usePhone();

test('an entry whose answer is lost on the way is sent again and stands once', {
  timeout: 300_000,
}, async () => {
  const { context, page, at } = await phone.open({ serviceWorkers: 'block' });
  const { ferment } = await phone.known(page);
  const statuses: number[] = [];
  const sent = new Set<string>();
  await page.route('**/api/entries/*', async (route) => {
    const answer = await route.fetch({ maxRetries: 3 });
    statuses.push(answer.status());
    sent.add(new URL(route.request().url()).pathname.split('/').at(-1) ?? '');
    if (statuses.length < 3) await route.abort();
    else await route.fulfill({ response: answer });
  });
  await at.reading(ferment.id, '1010.5');
  await allSent(page);
  const found = await phone.written(page, [...sent]);
  await context.close();

  expect(statuses).toEqual([201, 200, 200]);
  expect(sent.size).toBe(1);
  expect(found.map(({ id }) => id)).toEqual([...sent]);
});

test('an entry changed after it had arrived unheard becomes a correction, not a second one', {
  timeout: 300_000,
}, async () => {
  const { context, page, at } = await phone.open({ serviceWorkers: 'block' });
  const { ferment } = await phone.known(page);
  let isLost = false;
  await page.route('**/api/entries/*', async (route) => {
    if (isLost || route.request().method() !== 'PUT') return route.continue();
    isLost = true;
    await route.fetch({ maxRetries: 3 });
    await context.setOffline(true);
    await route.abort();
  });
  // The page itself is in hand before the network goes: no worker keeps it here.
  await at.open('/outbox');
  await page.getByRole('link', { name: 'Ferments' }).click();
  await page.locator(`main a[href="/ferments/${ferment.id}"]`).first().click();
  await page
    .getByRole('textbox', { name: /^Gravity/ })
    .first()
    .fill('1010');
  await at.press('Save the reading');
  await page.getByRole('link', { name: '1 waiting' }).click();
  const [waiting] = await queueOf(page);
  await at.press(/^Change it/);
  await page
    .getByRole('textbox', { name: /^Gravity/ })
    .first()
    .fill('1009');
  await at.press('Save and send');
  await page.getByText('Changed; it waits.').waitFor();

  await context.setOffline(false);
  await page.getByRole('link', { name: '1 waiting, 1 to put right' }).waitFor();
  await at.press(/^Change it/);
  await page.getByRole('heading', { name: 'It had arrived already' }).waitFor();
  await page.getByRole('row', { name: /^Gravity.*1010.*1009/ }).waitFor();
  await at.press('Save mine as a correction');
  await allSent(page);
  const history = await phone.items<{ supersedes: string | null; body: { gravitySg: number } }>(
    page,
    `/api/records/${waiting?.id}/history`,
  );
  await context.close();

  expect(history.map(({ supersedes, body }) => [supersedes, body.gravitySg])).toEqual([
    [null, 1.01],
    [waiting?.id, 1.009],
  ]);
});

const noStore = 'Object.defineProperty(globalThis, "indexedDB", { value: undefined });';

test.each([
  { choice: 'Save mine as a correction', stands: [1.006, 1.005] },
  { choice: 'Keep what the log holds', stands: [1.006] },
])(
  'where nothing can be kept, a lost answer and a changed figure show both: $choice',
  {
    timeout: 300_000,
  },
  async ({ choice, stands }) => {
    const { context, page, at } = await phone.open({ serviceWorkers: 'block' }, noStore);
    const { ferment } = await phone.known(page);
    const sent: string[] = [];
    await page.route('**/api/entries/*', async (route) => {
      sent.push(new URL(route.request().url()).pathname.split('/').at(-1) ?? '');
      const answer = await route.fetch({ maxRetries: 3 });
      await (sent.length === 1 ? route.abort() : route.fulfill({ response: answer }));
    });
    await at.open(`/ferments/${ferment.id}`);
    const gravity = page.getByRole('textbox', { name: /^Gravity/ }).first();
    await gravity.fill('1006');
    await at.press('Save the reading');
    await page
      .getByText(/^What you typed is kept on this device/)
      .first()
      .waitFor();
    await gravity.fill('1005');
    await at.press('Save the reading');
    await page.getByRole('heading', { name: 'It had arrived already' }).waitFor();
    await page.getByRole('row', { name: /^Gravity.*1006.*1005/ }).waitFor();
    await at.press(choice);
    await page
      .getByText(/reading/i)
      .first()
      .waitFor();
    await page
      .getByRole('heading', { name: 'It had arrived already' })
      .waitFor({ state: 'detached' });
    await expect.poll(() => gravity.inputValue(), { timeout: 30_000 }).toBe('');
    const history = await phone.items<{ body: { gravitySg: number } }>(
      page,
      `/api/records/${sent[0]}/history`,
    );
    await context.close();

    expect(sent[1]).toBe(sent[0]);
    expect(history.map(({ body }) => body.gravitySg)).toEqual(stands);
  },
);

test('a program gone wild is told to wait; what waits on the page goes when its time has come', {
  timeout: 300_000,
}, async () => {
  const { context, page, at } = await phone.open({ serviceWorkers: 'block' });
  const { ferment } = await phone.known(page);
  await at.open(`/ferments/${ferment.id}`);
  await page.waitForLoadState('networkidle');
  await page
    .getByRole('textbox', { name: /^Gravity/ })
    .first()
    .fill('1004');
  // As a script in the page would that asks without end.
  const refusals = await page.evaluate(async () => {
    let refused = 0;
    for (let round = 0; round < 60 && refused === 0; round += 1) {
      const asked = Array.from({ length: 20 }, () => fetch('/api/account/sessions'));
      refused += (await Promise.all(asked)).filter(({ status }) => status === 429).length;
    }
    return refused;
  });
  const asked: { status: number; atMs: number }[] = [];
  await page.route('**/api/entries/*', async (route) => {
    const atMs = Date.now();
    if (asked.length === 0) {
      asked.push({ status: 429, atMs });
      return route.fulfill({
        status: 429,
        headers: { 'retry-after': '2' },
        json: { code: 'too_many', title: 'Too many', detail: 'Wait', errors: [] },
      });
    }
    const answer = await route.fetch({ maxRetries: 3 });
    asked.push({ status: answer.status(), atMs });
    await route.fulfill({ response: answer });
  });
  await at.press('Save the reading');
  await allSent(page);
  await context.close();

  expect(refusals).toBeGreaterThan(0);
  expect(asked[0]?.status).toBe(429);
  expect(asked.at(-1)?.status).toBe(201);
  expect((asked[1]?.atMs ?? 0) - (asked[0]?.atMs ?? 0)).toBeGreaterThan(1_900);
});
