import { mkdirSync } from 'node:fs';
import { rm, writeFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { serve } from '@hono/node-server';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createApp } from '#api/app.ts';
import { jsonLog } from '#api/log.ts';
import { withPages } from '#api/pages.ts';
import { requestLog } from '#api/requestLog.ts';
import { createUpkeep, type Upkeep } from '#api/upkeep/upkeep.ts';
import { type OpenLog, openLog } from '#db/opening/openLog.ts';
import { hourMs } from '#shared/durations.ts';
import { aClient, aFolder, aSeed, type Folder, newId } from '#tests/faults/rig.ts';
import { aSession } from '#tests/support/signedIn.ts';
import { launchChromium } from './chromium.ts';

const pictures = 'tests/browser/screens';
const views = [
  { width: 390, height: 844, colorScheme: 'light' },
  { width: 1280, height: 800, colorScheme: 'dark' },
] as const;
type View = (typeof views)[number];

type Kept = {
  url: string;
  folder: Folder;
  second: string;
  log: OpenLog;
  upkeep: Upkeep;
  cookie: string;
  put: ReturnType<typeof aClient>['put'];
  later: (ms: number) => void;
  close: () => Promise<void>;
};

/** The tool on a folder of its own, in this process, so that the test can break things under it. */
async function aKeptSite(settings: { leastFreeBytes?: number } = {}): Promise<Kept> {
  const folder = await aFolder();
  const second = join(folder.path, 'usb');
  let nowMs = Date.now();
  const now = () => nowMs;
  const log = await openLog(folder, { nowMs, newId: newId() });
  const silent = jsonLog(() => undefined, now);
  const upkeep = await createUpkeep({
    database: log.database,
    settings: { ...folder, secondFolder: second, everyHours: 1, leastFreeBytes: 1, ...settings },
    now,
    newId,
    log: silent,
  });
  const app = createApp({ database: log.database, now, upkeep });
  const pages = withPages(app, 'web/dist', requestLog(silent, newId));
  const server = serve({ fetch: pages.fetch, port: 0, hostname: '127.0.0.1' });
  await new Promise((resolve) => server.once('listening', resolve));
  const { port } = server.address() as AddressInfo;
  const url = `http://127.0.0.1:${port}`;
  // Begun early enough for a clock set back, late enough for the token of a day.
  const atMs = now() - 12 * hourMs;
  const { cookie } = await aSession(log.database, { userName: 'ines', roles: ['head'], atMs });
  const { put } = aClient(url, cookie);
  return {
    url,
    folder,
    second,
    log,
    upkeep,
    cookie,
    put,
    later: (ms) => {
      nowMs += ms;
    },
    close: async () => {
      server.close();
      await log.close();
      await folder.remove();
    },
  };
}

let browser: Browser;
beforeAll(async () => {
  mkdirSync(pictures, { recursive: true });
  browser = await launchChromium();
});
afterAll(() => browser?.close());

/** What the frame and the section under Setup say, looked at in two sizes; nothing is wrong for axe. */
async function looked(site: Kept, name: string): Promise<{ banner: string; section: string }> {
  let found = { banner: '', section: '' };
  for (const view of views) {
    const page = await aPage(site, view);
    await page.goto(`${site.url}/setup#safe`);
    const section = page.locator('#safe');
    await section.getByText('Free disk').waitFor();
    await page.waitForLoadState('networkidle');
    const path = `${pictures}/upkeep-${name}-${view.width}-${view.colorScheme}.png`;
    await page.screenshot({ path, fullPage: true });
    expect(await faultsOf(page)).toEqual([]);
    // What is saved is told in a place of its own.
    const banners = await page.locator('.outbox-lines > .outbox-line').allInnerTexts();
    found = { banner: banners.join(' '), section: (await section.textContent()) ?? '' };
    await page.context().close();
  }
  return found;
}

async function aPage(site: Kept, { width, height, colorScheme }: View): Promise<Page> {
  const context = await browser.newContext({ viewport: { width, height }, colorScheme });
  const { port } = new URL(site.url);
  const value = site.cookie.replace('barm=', '');
  await context.addCookies([{ name: `barm-${port}`, value, url: site.url }]);
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  return page;
}

async function faultsOf(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const { axe: checker } = window as unknown as { axe: typeof import('axe-core') };
    const runOnly = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
    const { violations } = await checker.run(document, { runOnly });
    const tooWide = document.documentElement.scrollWidth - window.innerWidth;
    return [
      ...violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`),
      ...(tooWide > 0 ? [`${tooWide} px too wide`] : []),
    ];
  });
}

test('all well: nothing on top, and under Setup where each copy is and when it was proven', {
  timeout: 300_000,
}, async () => {
  const site = await aKeptSite();
  await aSeed(site);
  const { jobs } = site.upkeep;
  for (const job of [jobs.watch, jobs.mirror, jobs.checkIfDue]) await job();
  const before = await looked(site, 'before');
  const page = await aPage(site, views[0]);
  await page.goto(`${site.url}/setup#safe`);
  await page.getByRole('button', { name: 'Back up now' }).click();
  await page.getByText('The log is backed up, and the copy is checked.').waitFor();
  await page.context().close();
  await jobs.drillIfDue();
  const { banner, section } = await looked(site, 'well');
  await site.close();

  expect(before.banner).toBe('');
  expect(before.section).toContain('none yet');
  expect(banner).toBe('');
  for (const said of [
    '5 entries',
    '.db',
    site.folder.backupFolder,
    site.second,
    'none was missing',
  ])
    expect(section).toContain(said);
  expect(section).toContain('It holds them all.');
  expect(section).toContain('npm run backup -- /mnt/usb');
});

test('each trouble is said on top, and under Setup with what to do', {
  timeout: 600_000,
}, async () => {
  const site = await aKeptSite();
  await aSeed(site);
  const { jobs } = site.upkeep;
  const { database } = site.log;
  await jobs.watch();
  await jobs.mirror();

  // A stick that is not there: a file stands where its folder would be.
  await writeFile(site.second, '');
  await jobs.backUpIfDue();
  const noSecond = await looked(site, 'second');
  expect(noSecond.banner).toContain('The copies in the second place are late');
  expect(noSecond.section).toContain('Connect it, and press');
  await rm(site.second);

  await rm(site.folder.mirrorFolder, { recursive: true });
  await writeFile(site.folder.mirrorFolder, '');
  await site.put({ ...vessel, name: 'FV2' });
  await jobs.mirror();
  site.later(61_000);
  const noMirror = await looked(site, 'mirror');
  expect(noMirror.banner).toContain('The running copy of the journal cannot be written.');
  expect(noMirror.section).toContain('It is 1 entry behind.');
  await rm(site.folder.mirrorFolder);
  await jobs.mirror();

  await rm(site.folder.backupFolder, { recursive: true });
  await writeFile(site.folder.backupFolder, '');
  await site.put({ ...vessel, name: 'FV3' });
  site.later(3 * hourMs);
  await jobs.backUpIfDue();
  const noBackup = await looked(site, 'backup');
  expect(noBackup.banner).toContain('The backup of the log is late.');
  expect(noBackup.section).toContain('It failed');
  await rm(site.folder.backupFolder);

  await database.execute('PRAGMA query_only = ON');
  expect(await site.put({ ...vessel, name: 'FV4' })).toMatchObject({ status: 503 });
  const readOnly = await looked(site, 'readonly');
  expect(readOnly.banner).toContain('Nothing can be saved just now.');
  expect(readOnly.banner).toContain('The file of the log cannot be written');
  expect(readOnly.section).toContain('stopped');
  await database.execute('PRAGMA query_only = OFF');
  await site.close();
});

const vessel = { kind: 'vessel', happenedAt: new Date().toISOString(), by: 'Ines' };

test('a disk too full, and a clock that is wrong, stop writing and say so', {
  timeout: 300_000,
}, async () => {
  const site = await aKeptSite({ leastFreeBytes: 1e15 });
  await aSeed(site);
  await site.upkeep.jobs.watch();
  const full = await looked(site, 'disk');
  expect(full.banner).toMatch(/Only \d+ MB are free on the disk/);
  expect(full.section).toContain('Make room on it.');
  site.later(-10 * hourMs);
  await site.upkeep.jobs.watch();
  const both = await looked(site, 'clock');
  expect(both.banner).toContain("The server's clock says");
  expect(both.banner).toMatch(/Only \d+ MB are free on the disk/);
  await site.close();
});

test('a broken chain: the first bad entry is named on every page, and what it says can be read', {
  timeout: 300_000,
}, async () => {
  const site = await aKeptSite();
  await aSeed(site);
  await site.log.database.write([
    'DROP TRIGGER journal_no_update',
    `UPDATE journal SET body = replace(body, '"amountL":20', '"amountL":30') WHERE seq = 3`,
  ]);
  await site.upkeep.jobs.watch();
  await site.upkeep.jobs.checkIfDue();
  const { banner, section } = await looked(site, 'chain');
  expect(banner).toContain('Nothing can be saved just now.');
  expect(banner).toContain(
    'Entry 3 is the first that cannot be trusted: its content does not match its seal.',
  );
  expect(section).toContain('broken');
  expect(section).toContain('Copy the whole data folder away first');

  const page = await aPage(site, views[0]);
  await page.goto(`${site.url}/yeast`);
  await page.getByRole('link', { name: 'What it says now' }).click();
  await page.getByRole('heading', { level: 1, name: /history/ }).waitFor();
  await page.getByText('30.0 L').first().waitFor();
  await page.screenshot({ path: `${pictures}/upkeep-chain-entry-390.png`, fullPage: true });
  await page.context().close();
  await site.close();
});
