import type { Context } from 'hono';

/** What the browser keeps: the session, and that someone signed in here before. */
const cookieNames = { session: 'barm', device: 'barm-device' } as const;
type CookieKind = keyof typeof cookieNames;

// Browsers give every port of a host the same cookies: the demo must not sign people out of the log.
function plainName(context: Context, kind: CookieKind): string {
  const port = /:(\d+)$/.exec(context.req.header('host') ?? '')?.[1];
  return port === undefined ? cookieNames[kind] : `${cookieNames[kind]}-${port}`;
}

// Browsers take a cookie of this prefix only from an encrypted page and for the whole host.
const secureName = (kind: CookieKind) => `__Host-${cookieNames[kind]}`;

/** The one value of a cookie; two of one name are no cookie at all. */
export function cookieOf(context: Context, kind: CookieKind): string | undefined {
  const pairs = (context.req.header('cookie') ?? '').split(';').map((pair) => pair.trim());
  for (const name of [secureName(kind), plainName(context, kind)]) {
    const [value, ...others] = pairs
      .filter((pair) => pair.startsWith(`${name}=`))
      .map((pair) => pair.slice(name.length + 1));
    if (value !== undefined) return others.length === 0 && isToken(value) ? value : undefined;
  }
  return undefined;
}

const isToken = (value: string) => /^[\w-]{43}$/.test(value);

/** A cookie no script can read and no other site can make the browser send with a change. */
export function setCookie(
  context: Context,
  kind: CookieKind,
  { value, maxAgeS }: { value: string; maxAgeS: number | undefined },
): void {
  const isSecure = isEncrypted(context) || hasSecure(context, kind);
  const name = isSecure ? secureName(kind) : plainName(context, kind);
  const age = maxAgeS === undefined ? '' : `; Max-Age=${maxAgeS}`;
  context.header(
    'set-cookie',
    `${name}=${value}; Path=/; HttpOnly; SameSite=Lax${isSecure ? '; Secure' : ''}${age}`,
    { append: true },
  );
}

/** A browser sends such a cookie back over TLS alone, also where it names no origin. */
const hasSecure = (context: Context, kind: CookieKind) =>
  (context.req.header('cookie') ?? '')
    .split(';')
    .some((pair) => pair.trim().startsWith(`${secureName(kind)}=`));

/** Whether the page, as the browser sees it, came over TLS: here or at what stands before us. */
const isEncrypted = (context: Context) =>
  context.req.header('origin')?.startsWith('https:') === true;
