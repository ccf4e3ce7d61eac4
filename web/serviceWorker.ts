/** Keeps the pages on the device. Runs by itself, apart from them. */

// Filled in by the build: the files of this version, and what names it.
declare const SHELL_FILES: readonly string[];
declare const SHELL_VERSION: string;

type Extendable = Event & { waitUntil: (work: Promise<unknown>) => void };
type Fetching = Extendable & {
  request: Request;
  respondWith: (answer: Promise<Response>) => void;
};
type Scope = {
  skipWaiting: () => Promise<void>;
  clients: { claim: () => Promise<void> };
};
const isExtendable = (event: Event): event is Extendable => 'waitUntil' in event;
const isFetching = (event: Event): event is Fetching => 'respondWith' in event;
const isScope = (worker: object): worker is Scope => 'skipWaiting' in worker;
const worker: object = globalThis;

const prefix = 'barmbook-pages-';
const version = `${prefix}${SHELL_VERSION}`;
// Answers that must come from the server, or that are no pages of this tool.
const ofServer = /^\/(api|feeds|healthz|readyz)(\/|$)/;

addEventListener('install', (event) => {
  if (isExtendable(event))
    event.waitUntil(caches.open(version).then((cache) => cache.addAll([...SHELL_FILES])));
});

addEventListener('activate', (event) => {
  if (isExtendable(event)) event.waitUntil(takeOver());
});

async function takeOver(): Promise<void> {
  const names = await caches.keys();
  const old = names.filter((each) => each.startsWith(prefix) && each !== version);
  await Promise.all(old.map((each) => caches.delete(each)));
  if (isScope(worker)) await worker.clients.claim();
}

// A new version waits until the person has let it in.
addEventListener('message', (event) => {
  if (event.data === 'take over' && isScope(worker)) void worker.skipWaiting();
});

addEventListener('fetch', (event) => {
  if (!isFetching(event) || event.request.method !== 'GET') return;
  const { origin, pathname } = new URL(event.request.url);
  if (origin !== location.origin || ofServer.test(pathname)) return;
  const path = event.request.mode === 'navigate' ? '/' : pathname;
  event.respondWith(kept(path).then((answer) => answer ?? fetch(event.request)));
});

const kept = async (path: string) => (await caches.open(version)).match(path);

export {};
