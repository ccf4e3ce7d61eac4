import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Page } from 'playwright-core';

/** Whoever is signed in on these pages is a head brewer of this name. */
const head = { name: 'Ines', userName: 'ines', password: 'skim-at-high-tide' };

export type Site = {
  url: string;
  /** Opens the first page signed in: in the demo as one of its people, else with a first account. */
  enter: (page: Page) => Promise<void>;
  /** Stops the process as an operator would and starts it again on the same file and port. */
  restart: () => Promise<void>;
  close: () => Promise<void>;
};

/** The built tool as `npm start` or `npm run demo` runs it, on a folder of its own. */
export async function startSite({ isDemo = false } = {}): Promise<Site> {
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-site-'));
  const flags = isDemo ? ['--demo'] : [];
  let server = await startServer(folder, '0', flags);
  const { url } = server;
  let isFirst = true;
  return {
    url,
    enter: async (page) => {
      if (isDemo || !isFirst) await signIn(page, url);
      else await makeFirstAccount(page, `${url}/welcome#code=${server.code}`);
      isFirst = false;
      await page.getByRole('button', { name: `You are ${head.name}` }).waitFor();
      await page.getByRole('heading', { level: 1, name: 'Today' }).waitFor();
    },
    restart: async () => {
      await stopServer(server.process);
      server = await startServer(folder, new URL(url).port, flags);
    },
    close: async () => {
      await stopServer(server.process);
      await rm(folder, { recursive: true });
    },
  };
}

async function signIn(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.getByLabel('User name').fill(head.userName);
  await page.getByLabel('Password', { exact: true }).fill(head.password);
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
}

async function makeFirstAccount(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await page.getByLabel('Your name').fill(head.name);
  await page.getByLabel('User name').fill(head.userName);
  await page.getByLabel('Password', { exact: true }).fill(head.password);
  await page.getByRole('button', { name: 'Make the account' }).click();
}

async function startServer(folder: string, port: string, flags: string[]) {
  const started = spawn(process.execPath, ['--import', 'tsx', 'api/server.ts', ...flags], {
    env: { ...process.env, DATA_DIR: folder, PORT: port, HOST: '127.0.0.1', DATABASE_URL: '' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let code = '';
  for await (const line of createInterface({ input: started.stdout })) {
    code = /#code=([\w-]+)/.exec(line)?.[1] ?? code;
    const url = /is ready: (http:\/\/[\d.]+:\d+)/.exec(line)?.[1];
    if (url !== undefined) return { process: started, url, code };
  }
  throw new Error('The server stopped before it was ready.');
}

async function stopServer(running: ChildProcess): Promise<void> {
  running.kill('SIGTERM');
  const [code] = await once(running, 'exit');
  if (code !== 0) throw new Error(`The server stopped with code ${code}.`);
}
