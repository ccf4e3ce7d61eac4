import { signal } from '@preact/signals';
import { workerAddress } from './workerAddress.ts';

/** A newer version of the pages is on this device and waits for a reload. */
export const hasNewVersion = signal(false);

let next: ServiceWorker | null = null;
let isTaking = false;

/** Keeps the pages on this device where the browser can: on https and on this computer itself. */
export async function keepPages(): Promise<void> {
  const worker: ServiceWorkerContainer | undefined = navigator.serviceWorker;
  if (worker === undefined || import.meta.env.DEV) return;
  worker.addEventListener('controllerchange', () => {
    // The first worker takes over a page that is up to date already.
    if (isTaking) location.reload();
  });
  const registration = await worker.register(workerAddress);
  const announce = (installed: ServiceWorker | null) => {
    if (installed === null || worker.controller === null) return;
    next = installed;
    hasNewVersion.value = true;
  };
  announce(registration.waiting);
  registration.addEventListener('updatefound', () => {
    const { installing } = registration;
    installing?.addEventListener('statechange', () => {
      if (installing.state === 'installed') announce(installing);
    });
  });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') registration.update().catch(() => undefined);
  });
}

/** Lets the new version in and reloads; what is typed stands in the drafts. */
export function takeNewVersion(): void {
  isTaking = true;
  next?.postMessage('take over');
}

const reloadedName = 'barmbook.reloadedMs';

/** After an update on the server an old page asks for parts that are gone: it reloads, once. */
export function reloadWhenOutdated(): void {
  addEventListener('vite:preloadError', (event) => {
    if (!navigator.onLine) return;
    const last = Number(sessionStorage.getItem(reloadedName) ?? 0);
    if (Date.now() - last < 30_000) return;
    event.preventDefault();
    sessionStorage.setItem(reloadedName, String(Date.now()));
    location.reload();
  });
}
