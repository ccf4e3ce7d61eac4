import type { Database } from '#db/database.ts';
import { hasAccounts } from '#db/people/accounts.ts';
import { hourMs } from '#shared/durations.ts';
import type { SessionState } from '#shared/people.ts';
import { ownHosts } from './hosts.ts';
import { codeSha256, randomCode } from './secrets.ts';

/** What the way in depends on besides the accounts. */
export type Access = {
  /** Whether a request may name this host. */
  isOwnHost: (host: string) => boolean;
  /** What makes the first account; undefined once there is one. */
  welcome: Welcome | undefined;
  /** Ready accounts to be shown on the sign-in page, in the demo alone. */
  demo: SessionState['demo'];
};

export type Welcome = { codeSha256: string; untilMs: number };

export const plainAccess: Access = { isOwnHost: ownHosts(), welcome: undefined, demo: [] };

/** How this server lets people in: with a set-up code as long as nobody has an account. */
export async function openAccess(
  { query }: Database,
  { allowedHosts, demo, nowMs }: Opening,
): Promise<{ access: Access; code: string | undefined }> {
  const opened = (await hasAccounts(query)) ? undefined : openWelcome(nowMs);
  const access = { isOwnHost: ownHosts(allowedHosts), welcome: opened?.welcome, demo };
  return { access, code: opened?.code };
}

type Opening = { allowedHosts: readonly string[]; demo: Access['demo']; nowMs: number };

/** Long enough to walk from the console to another room; a restart gives a new code. */
const welcomeMs = hourMs;

/** A code to be printed on the console, and the digest of it to be kept meanwhile. */
export function openWelcome(nowMs: number): { code: string; welcome: Welcome } {
  const code = randomCode();
  return { code, welcome: { codeSha256: codeSha256(code), untilMs: nowMs + welcomeMs } };
}
