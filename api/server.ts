import { randomUUID } from 'node:crypto';
import { relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type ServerType, serve } from '@hono/node-server';
import type { Database } from '#db/database.ts';
import { crashStop } from '#db/opening/crashes.ts';
import type { OpenLog } from '#db/opening/openLog.ts';
import { StartRefusal } from '#db/opening/startRefusal.ts';
import { noteUpkeep } from '#db/safety/upkeepEvents.ts';
import { requestLimits } from '#shared/requestLimits.ts';
import { createApp } from './app.ts';
import { openAccess } from './auth/access.ts';
import { readEnvironment } from './environment.ts';
import { serverLimits } from './guard.ts';
import { faultFields, jsonLog } from './log.ts';
import { openConfigured } from './openConfigured.ts';
import { withPages } from './pages.ts';
import { requestLog } from './requestLog.ts';
import { createUpkeep, type Upkeep } from './upkeep/upkeep.ts';

const isDemo = process.argv.includes('--demo');
const stopWithinMs = 10_000;
const cutAfterMs = 5_000;
const log = jsonLog((line) => process.stdout.write(line), Date.now);

type Running = { server: ServerType; upkeep: Upkeep; database: Database; close: OpenLog['close'] };

async function start(): Promise<void> {
  const environment = readEnvironment(process.env, { isDemo });
  // The story is told as of today, so it is told anew at each start.
  const { database, close, upkeep: settings } = await openConfigured(environment, { anew: isDemo });
  const demo = isDemo ? await tellDemo(database) : [];
  const { allowedHosts } = environment;
  const { access, code } = await openAccess(database, { allowedHosts, demo, nowMs: Date.now() });
  const upkeep = await createUpkeep({
    database,
    settings,
    now: Date.now,
    newId: randomUUID,
    log,
  });
  // On a database server the starts of other programs stand among its own.
  const isCounted = environment.hasSafeMode && database.isLocal;
  const crashes = isCounted ? await crashStop(database, Date.now()) : undefined;
  if (crashes !== undefined) {
    database.writeStops.set('crashes', crashes);
    log('error', 'safe mode', { reason: crashes.reason });
  }
  await upkeep.jobs.watch();
  const built = fileURLToPath(new URL('../web/dist', import.meta.url));
  const app = withPages(
    createApp({
      database,
      now: Date.now,
      access,
      upkeep,
      limits: environment.hasRequestLimits ? requestLimits : undefined,
    }),
    relative(process.cwd(), built),
    requestLog(log, randomUUID),
  );
  const server = serve(
    {
      fetch: app.fetch,
      port: environment.port,
      hostname: environment.host,
      serverOptions: { ...serverLimits.options },
    },
    ({ port }) => {
      const name = isDemo ? 'Barmbook with the demo brewery' : 'Barmbook';
      const address = `http://${shownHost(environment.host)}:${port}/`;
      // Behind the # it reaches no server and no log.
      if (code !== undefined)
        console.log(`Make the first account, within the hour: ${address}welcome#code=${code}`);
      if (crashes !== undefined) console.error(crashes.reason);
      console.log(`${name} is ready: ${address}`);
    },
  );
  if ('maxRequestsPerSocket' in server) {
    server.maxRequestsPerSocket = serverLimits.maxRequestsPerSocket;
    server.maxConnections = serverLimits.maxConnections;
  }
  upkeep.start();
  const running = { server, upkeep, database, close };
  server.once('error', (error) => {
    console.error(
      `It cannot listen on ${environment.host}, port ${environment.port} (${error.message}): set PORT or HOST.`,
    );
    // No crash: what stands in the way is outside.
    void stop(running, 1);
  });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.once(signal, () => void stop(running));
  for (const event of ['uncaughtException', 'unhandledRejection'] as const)
    process.on(event, (error: unknown) => {
      log('error', event, faultFields(error));
      process.exit(1);
    });
}

async function tellDemo(database: Database) {
  const { fillDemo } = await import('#db/demo/fillDemo.ts');
  const { demoPassword, demoPeople } = await import('#db/demo/demoPeople.ts');
  await fillDemo(database, Date.now());
  return demoPeople.map((person) => ({ ...person, password: demoPassword }));
}

const shownHost = (host: string) =>
  host.includes(':') && !host.startsWith('[') ? `[${host}]` : host;

async function stop({ server, upkeep, database, close }: Running, exitCode = 0): Promise<void> {
  setTimeout(() => process.exit(1), stopWithinMs).unref();
  log('info', 'stopping');
  await closed(server);
  await upkeep.stop();
  // A clean end counts, also of a run that only read.
  database.writeStops.set('crashes', undefined);
  await noteUpkeep(database, { atMs: Date.now(), kind: 'stopped', detail: {} }).catch(
    (error: unknown) => log('warn', 'the end could not be noted', faultFields(error)),
  );
  await close();
  process.exit(exitCode);
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
  process.exit(error instanceof StartRefusal ? error.exitCode : 1);
});
