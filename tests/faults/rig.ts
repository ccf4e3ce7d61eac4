import { type ChildProcess, spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { record } from '#db/journal/journal.ts';
import { type OpenLog, openLog } from '#db/opening/openLog.ts';
import type { FileReport } from '#db/safety/inspect.ts';
import { inspectApart } from '#db/safety/inspectApart.ts';
import { dayMs } from '#shared/durations.ts';
import { type Entry, entry as entrySchema } from '#shared/entries/entry.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { aStrain } from '#tests/support/brewery.ts';
import { aSession } from '#tests/support/signedIn.ts';

/** How many times: a handful in every run, all of it with `npm run faults`. */
export const times = (few: number, many: number) => (process.env.FAULTS === 'full' ? many : few);

export const newId = () => uuidV7(Date.now(), new Uint8Array(randomBytes(10)));
export const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

export type Folder = {
  path: string;
  file: string;
  backupFolder: string;
  mirrorFolder: string;
  remove: () => Promise<void>;
};

/** A folder of its own for a log, on the machine's disk. */
export async function aFolder(within = tmpdir()): Promise<Folder> {
  const path = await mkdtemp(join(within, 'barmbook-fault-'));
  return {
    path,
    file: join(path, 'barmbook.db'),
    backupFolder: join(path, 'backups'),
    mirrorFolder: join(path, 'backups', 'mirror'),
    remove: () => rm(path, { recursive: true, force: true }),
  };
}

/** Makes the log of a folder with one head brewer, and gives the cookie of her session. */
export async function aSignedInLog(folder: Folder): Promise<string> {
  const log = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  const { cookie } = await aSession(log.database, {
    userName: 'ines',
    roles: ['head'],
    atMs: Date.now(),
  });
  await log.close();
  return cookie;
}

/** The same with a seed of records, and whatever else is to be done before the log is closed. */
export async function aSeededLog(
  folder: Folder,
  before: (
    log: OpenLog,
    put: (entry: Entry) => Promise<Answer>,
    seed: Seed,
  ) => Promise<void> = async () => undefined,
): Promise<{ cookie: string; seed: Seed }> {
  const log = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  const { cookie } = await aSession(log.database, {
    userName: 'ines',
    roles: ['head'],
    atMs: Date.now(),
  });
  const put = async (entry: Entry | Record<string, unknown>, id = newId()): Promise<Answer> => {
    const source = { receivedMs: Date.now(), actor: 'ines', via: 'web' as const };
    const { recorded } = await record(log.database, id, entrySchema.parse(entry), source);
    return { status: 201, body: { id: recorded.id }, ms: 0 };
  };
  const seed = await aSeed({ put });
  await before(log, put, seed);
  await log.close();
  return { cookie, seed };
}

export type Running = {
  url: string;
  process: ChildProcess;
  startedInMs: number;
  /** All that it wrote, to both ends. */
  output: () => string;
  end: (signal: NodeJS.Signals) => Promise<number | null>;
};
export type NotStarted = { exitCode: number | null; output: string };

/** Starts one of the tool's programs on a folder, as an operator would. */
export function launch(
  program: readonly string[],
  folder: Folder,
  settings: Record<string, string> = {},
): ChildProcess {
  return spawn(process.execPath, ['--import', 'tsx', ...program], {
    env: {
      ...process.env,
      DATA_DIR: folder.path,
      PORT: '0',
      HOST: '127.0.0.1',
      DATABASE_URL: '',
      MIN_FREE_MB: '0',
      BACKUP_EVERY_HOURS: '0',
      REQUEST_LIMITS: 'off',
      SAFE_MODE: 'off',
      ...settings,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
}

/** Starts the server; gives what it said when it would not start. */
export async function startServer(
  folder: Folder,
  settings: Record<string, string> = {},
): Promise<Running | NotStarted> {
  const began = performance.now();
  const started = launch(['api/server.ts'], folder, settings);
  let output = '';
  const exited = once(started, 'exit');
  const url = await new Promise<string | undefined>((resolve) => {
    const listen = (part: Buffer) => {
      output += part;
      const found = /(http:\/\/[\d.]+:\d+)/.exec(output)?.[1];
      if (found !== undefined) resolve(found);
    };
    started.stdout?.on('data', listen);
    started.stderr?.on('data', listen);
    started.once('close', () => resolve(undefined));
  });
  if (url === undefined) return { exitCode: started.exitCode, output };
  return {
    url,
    process: started,
    startedInMs: performance.now() - began,
    output: () => output,
    end: async (signal) => {
      started.kill(signal);
      await exited;
      return started.exitCode;
    },
  };
}

/** Ends a program a while after the work that is to be cut short has begun. */
export async function killedOnce(
  program: ChildProcess,
  { hasBegun, thenMs }: { hasBegun: () => Promise<boolean>; thenMs: number },
): Promise<'cut short' | 'ended by itself'> {
  const exited = once(program, 'exit');
  while (program.exitCode === null && !(await hasBegun())) await pause(1);
  await pause(thenMs);
  program.kill('SIGKILL');
  await exited;
  return program.signalCode === 'SIGKILL' ? 'cut short' : 'ended by itself';
}

/** Does a work so many times, two side by side: much of it is waiting for another process. */
export async function twoAtATime(
  count: number,
  work: (nth: number) => Promise<void>,
): Promise<void> {
  let next = 0;
  const hand = async () => {
    while (next < count) await work(next++);
  };
  await Promise.all([hand(), hand()]);
}

/** @throws Error with what it said when it did not start */
export async function startedServer(folder: Folder, settings?: Record<string, string>) {
  const server = await startServer(folder, settings);
  if ('url' in server) return server;
  throw new Error(`It did not start (${server.exitCode}): ${server.output}`);
}

export type Answer = { status: number; body: Record<string, unknown>; ms: number };

/** A signed-in page of the site; an unanswered request is status 0. */
export function aClient(url: string, session: string) {
  // Over a port of its own the cookie bears the port in its name.
  const cookie = session.replace('barm=', `barm-${new URL(url).port}=`);
  const send = async (method: string, path: string, body?: unknown): Promise<Answer> => {
    const began = performance.now();
    const answered = (status: number, answer: Record<string, unknown>) => ({
      status,
      body: answer,
      ms: performance.now() - began,
    });
    try {
      const response = await fetch(`${url}${path}`, {
        method,
        headers: { cookie, origin: url, 'content-type': 'application/json' },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      return answered(response.status, await response.json());
    } catch {
      return answered(0, {});
    }
  };
  return {
    get: (path: string) => send('GET', path),
    post: (path: string, body?: unknown) => send('POST', path, body),
    put: (entry: Entry | Record<string, unknown>, id = newId()) =>
      send('PUT', `/api/entries/${id}`, entry),
  };
}
export type Client = ReturnType<typeof aClient>;

export type Seed = { strainId: string; lotId: string; fermentId: string };

const by = 'Ines';
const justNow = () => new Date(Date.now() - 1_000).toISOString();

/** A strain, a fermenter, a fresh culture and a gyle pitched with it, all from yesterday on. */
export async function aSeed({ put }: Pick<Client, 'put'>): Promise<Seed> {
  const happenedAt = new Date(Date.now() - dayMs).toISOString();
  const made = async (entry: Entry) => {
    const { status, body } = await put(entry);
    if (status !== 201) throw new Error(`The seed was refused: ${JSON.stringify(body)}`);
    return String(body.id);
  };
  const strainId = await made({ ...aStrain(), happenedAt });
  const vesselId = await made({ kind: 'vessel', happenedAt, by, name: 'FV1' });
  const lotId = await made({
    kind: 'freshCulture',
    happenedAt,
    by,
    strainId,
    origin: 'bought',
    generation: 0,
    amountL: 20,
  });
  const fermentId = await made({
    kind: 'ferment',
    happenedAt,
    by,
    gyle: '412',
    beer: 'Headland Bitter',
    vesselId,
    strainId,
    volumeL: 1600,
    originalGravitySg: 1.04,
  });
  await made({ kind: 'pitch', happenedAt, by, fermentId, lotId, amountL: 8 });
  return { strainId, lotId, fermentId };
}

/** The n-th of a stream of entries of mixed kinds, each valid beside the others. */
export function mixedEntry({ lotId, fermentId }: Seed, n: number): Entry {
  const happenedAt = justNow();
  switch (n % 4) {
    case 0:
      return { kind: 'reading', happenedAt, by, fermentId, gravitySg: 1.03 - (n % 20) / 1000 };
    case 1:
      return { kind: 'storeReading', happenedAt, by, lotId, tempC: 2 + (n % 3) };
    case 2:
      return { kind: 'discard', happenedAt, by, lotId, amountL: 0.001, why: 'drain' };
    default:
      return {
        kind: 'stain',
        happenedAt,
        by,
        lotId,
        stain: 'methylene blue',
        live: 180,
        dead: n % 1_000,
      };
  }
}

/** @throws Error with what is wrong with the file */
export async function soundReport(file: string) {
  const report: FileReport = await inspectApart(file, 'full');
  if (report.state === 'sound') return report;
  throw new Error(`The file is not sound: ${JSON.stringify(report)}`);
}

export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;
}
