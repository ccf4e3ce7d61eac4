/** What the browser keeps: the session, and that someone signed in here before. */
const cookieNames = { session: 'barm', device: 'barm-device' } as const;
type CookieKind = keyof typeof cookieNames;

// Browsers take a cookie of this prefix only from an encrypted page and for the whole host.
const secureName = (kind: CookieKind) => `__Host-${cookieNames[kind]}`;

/** The one value of a cookie; two of one name are no cookie at all. */
export function cookieOf(header: string | undefined, kind: CookieKind): string | undefined {
  const pairs = (header ?? '').split(';').map((pair) => pair.trim());
  for (const name of [secureName(kind), cookieNames[kind]]) {
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
  kind: CookieKind,
  value: string,
  { isSecure, maxAgeS }: { isSecure: boolean; maxAgeS: number | undefined },
): string {
  const name = isSecure ? secureName(kind) : cookieNames[kind];
  const age = maxAgeS === undefined ? '' : `; Max-Age=${maxAgeS}`;
  return `${name}=${value}; Path=/; HttpOnly; SameSite=Lax${isSecure ? '; Secure' : ''}${age}`;
}

/** Takes the session out of the browser, under either name. */
export function clearedSession(isSecure: boolean): string[] {
  const plain = setCookie('session', '', { isSecure: false, maxAgeS: 0 });
  return isSecure ? [plain, setCookie('session', '', { isSecure, maxAgeS: 0 })] : [plain];
}
