import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import type { RouteDoc } from './apiDocument.ts';
import { incomingOf } from './auth/caller.ts';
import { cookieOf } from './auth/cookies.ts';
import { RequestError } from './problem.ts';

/** What Node's server allows a connection, so that slow or idle ones cannot hold all of them. */
export const serverLimits = {
  options: {
    headersTimeout: 10_000,
    requestTimeout: 30_000,
    keepAliveTimeout: 5_000,
    connectionsCheckingInterval: 5_000,
    maxHeaderSize: 8 * 1024,
  },
  maxRequestsPerSocket: 1_000,
  maxConnections: 256,
} as const;

const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
  "object-src 'none'",
  // No text becomes a script or markup by itself: the pages make one policy, for their own worker.
  "require-trusted-types-for 'script'",
  'trusted-types barmbook-worker',
].join('; ');

const headers = {
  'content-security-policy': contentPolicy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(self), geolocation=(), microphone=()',
} as const;

/** Puts on every answer what browsers are to keep to; nothing is cached unless it says so. */
export const secureHeaders = createMiddleware(async (context, next) => {
  await next();
  for (const [name, value] of Object.entries(headers)) context.res.headers.set(name, value);
  if (!context.res.headers.has('cache-control'))
    context.res.headers.set('cache-control', 'no-store');
});

/** Refuses requests under a foreign name, and changes asked for by the page of another site. */
export function guard(
  isOwnHost: (host: string) => boolean,
  rowOf: (context: Context) => RouteDoc | undefined,
) {
  return createMiddleware(async (context, next) => {
    const host = hostOf(context);
    if (host === undefined || !isOwnHost(host))
      throw new RequestError(
        'misdirected',
        'Name this machine in ALLOWED_HOSTS if it is to be reached by this name.',
      );
    if (!isSafe(context.req.method) && !mayChange(context, host, rowOf(context)))
      throw new RequestError('forbidden', 'A change must come from a page of this address.');
    await next();
  });
}

/** The one Host header; undefined when it is missing or given twice. */
function hostOf(context: Context): string | undefined {
  const raw = incomingOf(context)?.rawHeaders;
  if (raw === undefined) return context.req.header('host') ?? new URL(context.req.url).host;
  const hosts = raw.filter((_, at) => at % 2 === 1 && raw[at - 1]?.toLowerCase() === 'host');
  return hosts.length === 1 ? hosts[0] : undefined;
}

const isSafe = (method: string) => ['GET', 'HEAD', 'OPTIONS'].includes(method);

function mayChange(context: Context, host: string, row: RouteDoc | undefined): boolean {
  // A device shows its secret itself; no browser adds it to what another site's page sends.
  if (row?.who === 'device') return true;
  const site = context.req.header('sec-fetch-site');
  if (site !== undefined && site !== 'same-origin') return false;
  const origin = context.req.header('origin');
  if (origin !== undefined) return isSameHost(origin, host);
  // A sum changes nothing and may be asked by a program; with a session it is a browser.
  const hasSession = cookieOf(context, 'session') !== undefined;
  return row?.tag === 'Calculations' && !hasSession;
}

// The scheme is left open: what encrypts may stand before this server.
function isSameHost(origin: string, host: string): boolean {
  const page = parsed(origin);
  return (
    page !== null &&
    /^https?:$/.test(page.protocol) &&
    page.host === parsed(`${page.protocol}//${host}`)?.host
  );
}

function parsed(address: string): URL | null {
  try {
    return new URL(address);
  } catch {
    return null;
  }
}
