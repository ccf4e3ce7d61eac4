import { readFileSync, statSync } from 'node:fs';

/** What is wrong with the address of a log, if anything; addresses of files are not looked at. */
export function addressFault(text: string): string | undefined {
  if (text.startsWith('file:')) return undefined;
  if (!URL.canParse(text)) return 'DATABASE_URL is not an address';
  const { protocol, hostname, searchParams, username, password } = new URL(text);
  if (username !== '' || password !== '' || searchParams.has('authToken'))
    return 'DATABASE_URL must not hold the token: give it in DATABASE_AUTH_TOKEN or DATABASE_AUTH_TOKEN_FILE';
  const isPlain = protocol === 'http:' || searchParams.get('tls') === '0';
  return isPlain && !isLoopback(hostname)
    ? 'DATABASE_URL must begin with libsql:// or https://: over http:// the log and its token could be read on the way; http:// is for this machine alone'
    : undefined;
}

const isLoopback = (hostname: string) =>
  hostname === 'localhost' || hostname === '[::1]' || /^127\.\d+\.\d+\.\d+$/.test(hostname);

/** @throws Error when the file cannot be read, is empty, or others than its owner may read it */
export function tokenIn(path: string): string {
  const name = 'DATABASE_AUTH_TOKEN_FILE';
  let mode: number;
  let token: string;
  try {
    mode = statSync(path).mode;
    token = readFileSync(path, 'utf8').trim();
  } catch {
    throw new Error(`${name} names a file that cannot be read (${path})`);
  }
  if ((mode & 0o077) !== 0)
    throw new Error(`${name}: others may read ${path}; let its owner alone: chmod 600 ${path}`);
  if (token === '') throw new Error(`${name}: ${path} is empty`);
  return token;
}
