import { relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type ServerType, serve } from '@hono/node-server';
import { type Database, openDatabase } from '#db/database.ts';
import { migrate } from '#db/migrate.ts';
import { createApp } from './app.ts';
import { makeDataDir, readEnvironment, removeDatabaseFile } from './environment.ts';
import { withPages } from './pages.ts';

const isDemo = process.argv.includes('--demo');
const stopWithinMs = 10_000;
const cutAfterMs = 5_000;

async function start(): Promise<void> {
  const environment = readEnvironment(process.env, { isDemo });
  makeDataDir(environment.dataDir);
  // The story is told as of today, so it is told anew at each start.
  if (isDemo) removeDatabaseFile(environment.databaseUrl);
  const database = await openDatabase(environment.databaseUrl, environment.databaseAuthToken);
  await migrate(database, Date.now());
  if (isDemo) {
    const { fillDemo } = await import('#db/demo/fillDemo.ts');
    await fillDemo(database, Date.now());
  }
  const built = fileURLToPath(new URL('../web/dist', import.meta.url));
  const app = withPages(createApp({ database, now: Date.now }), relative(process.cwd(), built));
  const server = serve(
    {
      fetch: app.fetch,
      port: environment.port,
      hostname: environment.host,
      serverOptions: {
        headersTimeout: 10_000,
        requestTimeout: 30_000,
        keepAliveTimeout: 5_000,
        maxHeaderSize: 8 * 1024,
      },
    },
    ({ port }) => {
      const name = isDemo ? 'Barmbook with the demo brewery' : 'Barmbook';
      console.log(`${name} is ready: http://${shownHost(environment.host)}:${port}/`);
    },
  );
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.once(signal, () => void stop(server, database));
}

const shownHost = (host: string) =>
  host.includes(':') && !host.startsWith('[') ? `[${host}]` : host;

async function stop(server: ServerType, database: Database): Promise<void> {
  setTimeout(() => process.exit(1), stopWithinMs).unref();
  await closed(server);
  await database.close();
  process.exit(0);
}

// Requests in hand are answered; connections that only wait are let go at once.
async function closed(server: ServerType): Promise<void> {
  if (!('closeIdleConnections' in server)) return;
  const sweep = setInterval(() => server.closeIdleConnections(), 50);
  const cut = setTimeout(() => server.closeAllConnections(), cutAfterMs);
  await new Promise<void>((resolve) => server.close(() => resolve()));
  clearInterval(sweep);
  clearTimeout(cut);
}

start().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error);
  process.exit(1);
});
