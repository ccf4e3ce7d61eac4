import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

export type Site = {
  url: string;
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
  return {
    url,
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

async function startServer(folder: string, port: string, flags: string[]) {
  const started = spawn(process.execPath, ['--import', 'tsx', 'api/server.ts', ...flags], {
    env: { ...process.env, DATA_DIR: folder, PORT: port, HOST: '127.0.0.1', DATABASE_URL: '' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  for await (const line of createInterface({ input: started.stdout })) {
    const url = /(http:\/\/[\d.]+:\d+)/.exec(line)?.[1];
    if (url !== undefined) return { process: started, url };
  }
  throw new Error('The server stopped before it was ready.');
}

async function stopServer(running: ChildProcess): Promise<void> {
  running.kill('SIGTERM');
  const [code] = await once(running, 'exit');
  if (code !== 0) throw new Error(`The server stopped with code ${code}.`);
}
