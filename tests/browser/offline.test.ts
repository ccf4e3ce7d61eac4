import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { hourMs } from '#shared/durations.ts';
import { openProfile, policyReports } from './chromium.ts';
import { madeEarlier, type Queued, queueOf, readyForOffline, shiftedClock } from './deviceQueue.ts';
import { useSite } from './useSite.ts';

const phone = { viewport: { width: 390, height: 844 } };
const here = useSite({ isDemo: true });

type Ferment = { id: string; state: string; hoursSincePitch: number; vessel: string };
type Lot = { id: string; code: string; ageHours: number; verdict: { verdict: string } };
type Written = {
  id: string;
  seq: number;
  happenedAt: string;
  receivedAt: string;
  by: string;
  clockFastMs: number;
  timeRemarks: string[];
};

const items = async <T>(page: Page, path: string): Promise<T[]> => {
  const body: { items: T[] } = await (await page.request.get(`${here.site.url}${path}`)).json();
  return body.items;
};

async function known(page: Page) {
  const ferments = await items<Ferment>(page, '/api/ferments/current');
  const running = ferments.filter(
    ({ state, hoursSincePitch }) => state === 'fermenting' && hoursSincePitch > 12,
  );
  const lots = (await items<Lot>(page, '/api/lots/in-store')).filter(
    ({ ageHours }) => ageHours > 4,
  );
  const [ferment] = running;
  const [lot] = lots;
  if (ferment === undefined || lot === undefined) throw new Error('The demo has too little yeast.');
  return { running, ferment, lots, lot };
}

/** A person at the phone: goes to a page and fills its form in. */
function hand(page: Page) {
  const open = async (path: string) => {
    await page.goto(`${here.site.url}${path}`);
    await page.getByRole('heading', { level: 1 }).waitFor();
  };
  const press = (name: string | RegExp) => page.getByRole('button', { name }).first().click();
  const noted = async (words: RegExp) => {
    await page.getByRole('status').filter({ hasText: words }).first().waitFor();
    await page.getByText('Kept on this device').first().waitFor();
    await press('Close this note');
  };
  return {
    open,
    press,
    reading: async (fermentId: string, gravity: string) => {
      await open(`/ferments/${fermentId}`);
      await page
        .getByRole('textbox', { name: /^Gravity/ })
        .first()
        .fill(gravity);
      await press('Save the reading');
      await noted(/reading/i);
    },
    crop: async (fermentId: string, code = '') => {
      await open(`/crop?ferment=${fermentId}`);
      await press(/More amount/);
      if (code !== '') {
        await page.getByText('Bin, place, own code, note').click();
        await page.getByLabel(/^Own lot code/).fill(code);
      }
      await press('Save the crop');
      await page.getByRole('heading', { name: 'Cropped' }).waitFor();
      await page.getByText('Kept on this device').waitFor();
    },
    count: async (lotId: string, squares: readonly number[]) => {
      await open(`/bench?lot=${lotId}`);
      for (const [index, cells] of squares.entries())
        await page
          .getByLabel(new RegExp(`square ${index + 1}$`))
          .first()
          .fill(String(cells));
      await page
        .getByLabel(/^Dilution/)
        .first()
        .fill('100');
      await press('Save the count');
      await noted(/count/i);
    },
    stain: async (lotId: string, live: number, dead: number) => {
      await open(`/bench?lot=${lotId}&do=stain`);
      await page.getByLabel('Live cells').fill(String(live));
      await page.getByLabel('Dead cells').fill(String(dead));
      await press('Save the stain');
      await noted(/stain/i);
    },
    collect: async (gyle: string) => {
      await open('/ferments/new');
      await page.getByLabel('Gyle number').fill(gyle);
      await page.getByLabel('Beer', { exact: true }).fill('Low Water Mild');
      await page.getByLabel('FV', { exact: true }).selectOption({ index: 1 });
      const strain = page.getByLabel('Strain', { exact: true });
      if ((await strain.count()) > 0) await strain.selectOption({ index: 1 });
      await page.getByLabel(/^Volume collected/).fill('10');
      await page.getByLabel(/^Original gravity/).fill('1036');
      await press('Save the gyle');
      await noted(/gyle/i);
    },
    pitch: async (gyle: string) => {
      await open('/pitch');
      const wort = page.getByLabel('Into which wort?');
      const option = wort.locator('option', { hasText: gyle });
      await wort.selectOption(await option.first().getAttribute('value'));
      await page
        .getByLabel(/^Amount of .* put in/)
        .first()
        .fill('3');
      const why = page.getByLabel('Why is it pitched all the same?');
      if ((await why.count()) > 0) await why.fill('Nothing better in store.');
      await press(`Record it in gyle ${gyle}`);
      await noted(/pitch/i);
    },
  };
}

const waits = (page: Page, count: number) =>
  page.getByRole('link', { name: `${count} waiting` }).waitFor();

async function written(page: Page, ids: readonly string[]): Promise<Written[]> {
  const found = await items<Written>(page, '/api/entries?limit=100');
  return found.filter(({ id }) => ids.includes(id)).toSorted((a, b) => a.seq - b.seq);
}

// Between two tries a device waits for 75 s at most.
const allSent = (page: Page) =>
  expect.poll(() => queueOf(page), { timeout: 150_000, interval: 250 }).toEqual([]);

test('twenty entries made offline, by a clock 3 h behind, over a restart, arrive once and in order', {
  timeout: 600_000,
}, async () => {
  const profile = await mkdtemp(join(tmpdir(), 'barmbook-phone-'));
  const reports: string[][] = [];
  const open = async (): Promise<[BrowserContext, Page]> => {
    const context = await openProfile(profile, phone);
    reports.push(await policyReports(context));
    await context.addInitScript(shiftedClock(-3 * hourMs));
    const page = context.pages()[0] ?? (await context.newPage());
    page.setDefaultTimeout(30_000);
    return [context, page];
  };

  let [context, page] = await open();
  await here.site.enter(page);
  const { running, ferment, lot } = await known(page);
  await readyForOffline(page);
  await page.getByText('This device’s clock is 3 h behind').waitFor();
  await context.setOffline(true);
  let at = hand(page);
  for (let nth = 0; nth < 6; nth += 1) await at.reading(ferment.id, String(1030 - nth));
  await at.crop(ferment.id);
  const cropped = (await queueOf(page)).at(-1)?.id ?? '';
  await at.count(cropped, [38, 41, 35, 37, 36]);
  await at.stain(cropped, 190, 6);
  await waits(page, 9);
  await context.close();

  [context, page] = await open();
  await context.setOffline(true);
  at = hand(page);
  await at.open('/');
  await waits(page, 9);
  await at.collect('999');
  await at.pitch('999');
  const second = running[1] ?? ferment;
  for (let nth = 0; nth < 3; nth += 1) await at.reading(second.id, String(1025 - nth));
  await at.crop(second.id);
  await at.crop(ferment.id);
  await at.count(lot.id, [40, 44, 39, 42, 41]);
  for (let nth = 0; nth < 3; nth += 1) await at.stain(lot.id, 200 + nth, 9);
  await waits(page, 20);
  const queue = await queueOf(page);

  await context.setOffline(false);
  await allSent(page);
  const arrived = await written(
    page,
    queue.map(({ id }) => id),
  );
  await at.open(`/ferments/${ferment.id}`);
  await page.getByText('device clock was 3 h behind').first().waitFor();
  await context.close();
  await rm(profile, { recursive: true });
  expect(reports).toEqual([[], []]);

  expect(queue.length).toBe(20);
  expect(arrived.map(({ id }) => id)).toEqual(queue.map(({ id }) => id));
  expect(new Set(arrived.map(({ by }) => by))).toEqual(new Set(['Ines']));
  for (const { happenedAt, receivedAt, clockFastMs, timeRemarks } of arrived) {
    expect(Math.abs(clockFastMs + 3 * hourMs)).toBeLessThan(60_000);
    expect(timeRemarks).toEqual(['device clock was 3 h behind']);
    const late = Date.parse(receivedAt) - Date.parse(happenedAt);
    expect(late).toBeGreaterThan(3 * hourMs);
    expect(late).toBeLessThan(3 * hourMs + 600_000);
  }
  expect(arrived.map(({ happenedAt }) => happenedAt)).toEqual(
    queue.map(({ entry }: Queued) => entry.happenedAt),
  );
});

test('a refused entry shows what was typed, holds back what rests on it, and can be mended', {
  timeout: 300_000,
}, async () => {
  const context = await here.browser.newContext(phone);
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  const { ferment, lot } = await known(page);
  await readyForOffline(page);
  await context.setOffline(true);
  const at = hand(page);
  await at.crop(ferment.id, lot.code);
  const [crop] = await queueOf(page);
  await at.count(crop?.id ?? '', [30, 31, 29, 33, 32]);
  await at.reading(ferment.id, '1011');

  await context.setOffline(false);
  await page.getByRole('link', { name: '2 waiting, 1 to put right' }).click();
  await page.getByText('Another lot already bears this code').first().waitFor();
  await page.getByText('after “Cropped”').waitFor();
  const kinds = (await queueOf(page)).map(({ entry }) => entry.kind);

  await at.press(/^Change it.*Cropped/);
  expect(await page.getByLabel(/^Lot code/).inputValue()).toBe(lot.code);
  await page.getByLabel(/^Lot code/).fill('MENDED-1');
  await at.press('Save and send');
  await allSent(page);
  const standing: { code: string; count: { cellsCounted: number } } = await (
    await page.request.get(`${here.site.url}/api/lots/${crop?.id}/standing`)
  ).json();
  await context.close();

  expect(kinds).toEqual(['crop', 'count']);
  expect(standing.code).toBe('MENDED-1');
  expect(standing.count.cellsCounted).toBe(155);
});

test('a fresh culture entered offline is a lot at once; what has waited for a day is told', {
  timeout: 300_000,
}, async () => {
  const context = await here.browser.newContext(phone);
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  await readyForOffline(page);
  await context.setOffline(true);
  const at = hand(page);
  await at.open('/yeast/new');
  await page.getByLabel('Strain', { exact: true }).selectOption({ index: 1 });
  await page.getByRole('radio', { name: 'Bought' }).check();
  await page.getByLabel(/^Amount/).fill('6');
  await at.press('Write it down');
  await page.getByRole('heading', { level: 1, name: /-F…$/ }).waitFor();
  await page.getByText('Not sent yet: fresh culture').waitFor();
  await at.open('/plan');
  await page.getByText('This plan does not know of').waitFor();

  await madeEarlier(page, 25 * hourMs);
  await at.open('/outbox');
  await page.getByText('The oldest since').waitFor();
  const download = page.waitForEvent('download');
  await at.press('Save a copy as a file');
  const copy: { waiting: Queued[] } = JSON.parse(
    await readFile(await (await download).path(), 'utf8'),
  );

  await context.setOffline(false);
  await allSent(page);
  await page.getByText(/^Last sent from this device: /).waitFor();
  const [arrived] = await written(
    page,
    copy.waiting.map(({ id }) => id),
  );
  await context.close();

  expect(copy.waiting.map(({ entry }) => entry.kind)).toEqual(['freshCulture']);
  expect(arrived?.by).toBe('Ines');
});

test('an entry whose answer is lost on the way is sent again and stands once', {
  timeout: 300_000,
}, async () => {
  const context = await here.browser.newContext({ ...phone, serviceWorkers: 'block' });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  const { ferment } = await known(page);
  const statuses: number[] = [];
  const sent = new Set<string>();
  await page.route('**/api/entries/*', async (route) => {
    const answer = await route.fetch({ maxRetries: 3 });
    statuses.push(answer.status());
    sent.add(new URL(route.request().url()).pathname.split('/').at(-1) ?? '');
    if (statuses.length < 3) await route.abort();
    else await route.fulfill({ response: answer });
  });
  await hand(page).reading(ferment.id, '1010.5');
  await allSent(page);
  const found = await written(page, [...sent]);
  await context.close();

  expect(statuses).toEqual([201, 200, 200]);
  expect(sent.size).toBe(1);
  expect(found.map(({ id }) => id)).toEqual([...sent]);
});

test('an entry changed after it had arrived unheard becomes a correction, not a second one', {
  timeout: 300_000,
}, async () => {
  const context = await here.browser.newContext({ ...phone, serviceWorkers: 'block' });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  const { ferment } = await known(page);
  const at = hand(page);
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
  const history = await items<{ supersedes: string | null; body: { gravitySg: number } }>(
    page,
    `/api/records/${waiting?.id}/history`,
  );
  await context.close();

  expect(history.map(({ supersedes, body }) => [supersedes, body.gravitySg])).toEqual([
    [null, 1.01],
    [waiting?.id, 1.009],
  ]);
});

test('what waits stays through a sign-out, and goes when its own author is back', {
  timeout: 300_000,
}, async () => {
  const context = await here.browser.newContext(phone);
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  const { ferment } = await known(page);
  await readyForOffline(page);
  await context.setOffline(true);
  const at = hand(page);
  await at.reading(ferment.id, '1008');
  const [waiting] = await queueOf(page);
  await at.open('/yeast/new');
  await page.getByLabel(/^Supplier/).fill('Half typed by Ines');
  await page.reload();
  await page.getByText(/^What you typed on/).waitFor();
  const afterReload = await page.getByLabel(/^Supplier/).inputValue();

  // The session ends while the phone is away, and someone else takes the phone.
  await context.clearCookies();
  await context.setOffline(false);
  await at.open('/');
  await page.getByLabel('User name').fill('maeve');
  await page.getByLabel('Password', { exact: true }).fill('skim-at-high-tide');
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await page.getByRole('link', { name: '1 waiting' }).click();
  await page.getByText('waits for Ines to sign in', { exact: true }).waitFor();
  const changesOffered = await page.getByRole('button', { name: /^Change it/ }).count();
  const asMaeve = await written(page, [waiting?.id ?? '']);
  await at.open('/yeast/new');
  const seenByMaeve = await page.getByLabel(/^Supplier/).inputValue();

  await context.clearCookies();
  await here.site.enter(page);
  await allSent(page);
  const asInes = await written(page, [waiting?.id ?? '']);
  await at.open('/yeast/new');
  const backWithInes = await page.getByLabel(/^Supplier/).inputValue();
  await context.close();

  expect(afterReload).toBe('Half typed by Ines');
  expect(changesOffered).toBe(0);
  expect(seenByMaeve).toBe('');
  expect(backWithInes).toBe('Half typed by Ines');
  expect(asMaeve).toEqual([]);
  expect(asInes.map(({ by }) => by)).toEqual(['Ines']);
});

test('someone else signed in beside an open page: nothing of it goes under another name', {
  timeout: 300_000,
}, async () => {
  const context = await here.browser.newContext(phone);
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  const { ferment, running } = await known(page);
  const at = hand(page);
  const begun = running[1]?.id ?? '';
  await at.open(`/ferments/${begun}`);
  const gravity = page.getByRole('textbox', { name: /^Gravity/ }).first();
  await gravity.fill('1007.5');
  await at.open(`/ferments/${ferment.id}`);
  await gravity.fill('1007');

  // As from a page that does not tell this one.
  const signedIn = await page.request.post(`${here.site.url}/api/session`, {
    headers: { origin: here.site.url },
    data: { userName: 'maeve', password: 'skim-at-high-tide', keep: false },
  });
  expect(signedIn.status()).toBe(201);
  await at.press('Save the reading');
  await page.getByRole('button', { name: 'You are Maeve' }).waitFor();
  await waits(page, 1);
  const [waiting] = await queueOf(page);
  const asMaeve = await written(page, [waiting?.id ?? '']);
  await page.getByRole('link', { name: '1 waiting' }).click();
  await page.getByText('waits for Ines').waitFor();
  const canChange = await page.getByRole('button', { name: /^Change it/ }).count();
  await at.open(`/ferments/${begun}`);
  const shownToMaeve = await gravity.inputValue();

  await context.clearCookies();
  await here.site.enter(page);
  await allSent(page);
  await at.open(`/ferments/${begun}`);
  const shownToInes = await gravity.inputValue();
  const [asInes] = await items<{ by: string; enteredBy: { name: string } }>(
    page,
    `/api/records/${waiting?.id}/history`,
  );
  await context.close();

  expect(asMaeve).toEqual([]);
  expect(canChange).toBe(0);
  expect([shownToMaeve, shownToInes]).toEqual(['', '1007.5']);
  expect(asInes).toMatchObject({ by: 'Ines', enteredBy: { name: 'Ines' } });
});

test.each([
  { choice: 'Save mine as a correction', stands: [1.006, 1.005] },
  { choice: 'Keep what the log holds', stands: [1.006] },
])(
  'where nothing can be kept, a lost answer and a changed figure show both: $choice',
  {
    timeout: 300_000,
  },
  async ({ choice, stands }) => {
    const context = await here.browser.newContext({ ...phone, serviceWorkers: 'block' });
    await context.addInitScript(
      'Object.defineProperty(globalThis, "indexedDB", { value: undefined });',
    );
    const page = await context.newPage();
    page.setDefaultTimeout(30_000);
    await here.site.enter(page);
    const { ferment } = await known(page);
    const at = hand(page);
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
    await expect.poll(() => gravity.inputValue()).toBe('');
    const history = await items<{ body: { gravitySg: number } }>(
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
  const context = await here.browser.newContext({ ...phone, serviceWorkers: 'block' });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  const { ferment } = await known(page);
  const at = hand(page);
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
