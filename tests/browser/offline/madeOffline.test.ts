import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { hourMs } from '#shared/durations.ts';
import { openProfile, policyReports } from '../chromium.ts';
import {
  madeEarlier,
  type Queued,
  queueOf,
  readyForOffline,
  shiftedClock,
} from '../deviceQueue.ts';
import { hand } from './hand.ts';
import { allSent, onPhone, usePhone, waits } from './phone.ts';

const phone = usePhone();

test('twenty entries made offline, by a clock 3 h behind, over a restart, arrive once and in order', {
  timeout: 600_000,
}, async () => {
  const profile = await mkdtemp(join(tmpdir(), 'barmbook-phone-'));
  const reports: string[][] = [];
  const open = async (): Promise<[BrowserContext, Page]> => {
    const context = await openProfile(profile, onPhone);
    reports.push(await policyReports(context));
    await context.addInitScript(shiftedClock(-3 * hourMs));
    const page = context.pages()[0] ?? (await context.newPage());
    page.setDefaultTimeout(30_000);
    return [context, page];
  };

  let [context, page] = await open();
  await phone.site.enter(page);
  const { running, ferment, lot } = await phone.known(page);
  await readyForOffline(page);
  await page.getByText('This device’s clock is 3 h behind').waitFor();
  await context.setOffline(true);
  let at = hand(page, phone.site.url);
  for (let nth = 0; nth < 6; nth += 1) await at.reading(ferment.id, String(1030 - nth));
  await at.crop(ferment.id);
  const cropped = (await queueOf(page)).at(-1)?.id ?? '';
  await at.count(cropped, [38, 41, 35, 37, 36]);
  await at.stain(cropped, 190, 6);
  await waits(page, 9);
  await context.close();

  [context, page] = await open();
  await context.setOffline(true);
  at = hand(page, phone.site.url);
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
  const arrived = await phone.written(
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
  const { context, page, at } = await phone.open();
  const { ferment, lot } = await phone.known(page);
  await readyForOffline(page);
  await context.setOffline(true);
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
    await page.request.get(`${phone.site.url}/api/lots/${crop?.id}/standing`)
  ).json();
  await context.close();

  expect(kinds).toEqual(['crop', 'count']);
  expect(standing.code).toBe('MENDED-1');
  expect(standing.count.cellsCounted).toBe(155);
});

test('a fresh culture entered offline is a lot at once; what has waited for a day is told', {
  timeout: 300_000,
}, async () => {
  const { context, page, at } = await phone.open();
  await readyForOffline(page);
  await context.setOffline(true);
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
  const [arrived] = await phone.written(
    page,
    copy.waiting.map(({ id }) => id),
  );
  await context.close();

  expect(copy.waiting.map(({ entry }) => entry.kind)).toEqual(['freshCulture']);
  expect(arrived?.by).toBe('Ines');
});
