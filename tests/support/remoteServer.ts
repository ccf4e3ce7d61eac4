import { randomUUID } from 'node:crypto';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Pipeline } from './remote/hrana.ts';
import { openStream, type Seen, type Stream } from './remote/stream.ts';
import { seededRandom } from './seededRandom.ts';

/** What goes wrong on the way; it may be changed while the server runs. */
export type Faults = {
  /** Share of requests whose answer is lost once the work is done. */
  dropAnswers: number;
  /** Whether the answers to all that begins a transaction are lost once the work is done. */
  dropWrites: boolean;
  /** Share of requests that are lost before anything is done. */
  dropRequests: number;
  /** Answered in place of doing anything. */
  status: number | undefined;
  /** Whether requests are taken and never answered. */
  isStalled: boolean;
  /** The largest request that is taken [bytes]. */
  mostBytes: number;
  /** How many more requests are taken until it is gone. */
  requestsLeft: number;
};

type Given = {
  token?: string;
  seed?: number;
  idleMs?: number;
  port?: number;
  foreignKeys?: boolean;
};

// Whoever forgets to remove one leaves nothing behind.
const folders = new Set<string>();
process.once('exit', () => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/**
 * A stand-in for a database server, on a file of its own: the Hrana 2 protocol as JSON over the
 * engine that the driver brings. It refuses what a server refuses, and fails when told to.
 */
export async function aRemoteServer({
  token = 'a-token',
  seed = 1,
  idleMs = 10_000,
  port = 0,
  foreignKeys = true,
}: Given = {}) {
  const folder = mkdtempSync(join(tmpdir(), 'barmbook-remote-'));
  folders.add(folder);
  const file = join(folder, 'remote.db');
  const random = seededRandom(seed);
  const faults: Faults = {
    dropAnswers: 0,
    dropWrites: false,
    dropRequests: 0,
    status: undefined,
    isStalled: false,
    mostBytes: Number.POSITIVE_INFINITY,
    requestsLeft: Number.POSITIVE_INFINITY,
  };
  const seen: Seen & { requests: number; dropped: number; largestBytes: number } = {
    requests: 0,
    dropped: 0,
    largestBytes: 0,
    statements: 0,
    refused: [],
  };
  const idle: Stream[] = [];
  const held = new Map<string, { stream: Stream; timer: NodeJS.Timeout }>();

  const settle = (stream: Stream) => {
    if (stream.reset()) idle.push(stream);
  };
  const hold = (stream: Stream): string => {
    const baton = randomUUID();
    const timer = setTimeout(() => {
      held.delete(baton);
      settle(stream);
    }, idleMs).unref();
    held.set(baton, { stream, timer });
    return baton;
  };
  const take = (baton: string | null | undefined): Stream | undefined => {
    if (baton === undefined || baton === null)
      return idle.pop() ?? openStream(file, seen, foreignKeys);
    const found = held.get(baton);
    held.delete(baton);
    clearTimeout(found?.timer);
    return found?.stream;
  };

  const answer = async (request: IncomingMessage): Promise<Answer> => {
    if (request.headers.authorization !== `Bearer ${token}`)
      return failed(401, 'AUTH_JWT_INVALID', 'the token is not accepted');
    if (request.method !== 'POST' || request.url !== '/v2/pipeline')
      return failed(404, 'NOT_FOUND', 'no such path');
    const parts: Buffer[] = [];
    for await (const part of request) parts.push(part);
    const sent = Buffer.concat(parts);
    seen.largestBytes = Math.max(seen.largestBytes, sent.length);
    if (sent.length > faults.mostBytes) return failed(413, 'TOO_LARGE', 'the request is too large');
    const { baton, requests }: Pipeline = JSON.parse(sent.toString('utf8'));
    const stream = take(baton);
    if (stream === undefined) return failed(400, 'STREAM_EXPIRED', 'the stream has expired');
    const results = requests.map(stream.run);
    const isClosed = requests.some(({ type }) => type === 'close');
    if (isClosed) settle(stream);
    const isWrite = requests.some(
      (each) => each.type === 'batch' && each.batch.steps[0]?.stmt.sql === 'BEGIN IMMEDIATE',
    );
    const next = isClosed ? null : hold(stream);
    return { status: 200, body: { baton: next, base_url: null, results }, isWrite };
  };

  const serve = async (request: IncomingMessage, response: ServerResponse) => {
    seen.requests += 1;
    faults.requestsLeft -= 1;
    if (faults.isStalled) return;
    if (faults.requestsLeft < 0) return void request.socket.destroy();
    if (faults.status !== undefined) return void response.writeHead(faults.status).end();
    if (random.uniform() < faults.dropRequests) {
      seen.dropped += 1;
      return void request.socket.destroy();
    }
    const { status, body, isWrite } = await answer(request);
    if (random.uniform() < faults.dropAnswers || (faults.dropWrites && isWrite)) {
      seen.dropped += 1;
      return void request.socket.destroy();
    }
    response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(body));
  };

  let server: Server | undefined;
  let at = port;
  const start = async () => {
    server = createServer((request, response) => {
      serve(request, response).catch((error: unknown) => response.destroy(error as Error));
    });
    server.listen(at, '127.0.0.1').unref();
    await once(server, 'listening');
    const address = server.address();
    if (address !== null && typeof address === 'object') at = address.port;
  };
  /** Lets every connection go; the file stays, so that `start` goes on where it was. */
  const stop = async () => {
    server?.closeAllConnections();
    await new Promise((resolve) => server?.close(resolve));
  };
  await start();

  return {
    url: `http://127.0.0.1:${at}`,
    token,
    file,
    faults,
    seen,
    start,
    stop,
    /** Ends it for good and removes its file. */
    remove: async () => {
      await stop();
      for (const { stream, timer } of held.values()) {
        clearTimeout(timer);
        stream.close();
      }
      for (const stream of idle) stream.close();
      rmSync(folder, { recursive: true, force: true });
      folders.delete(folder);
    },
  };
}

type Answer = { status: number; body: unknown; isWrite: boolean };

const failed = (status: number, code: string, message: string): Answer => ({
  status,
  body: { message, code },
  isWrite: false,
});

export type RemoteServer = Awaited<ReturnType<typeof aRemoteServer>>;
