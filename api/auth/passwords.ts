import { availableParallelism } from 'node:os';
import { hash, parseOptions, verify } from '@node-rs/argon2';
import { DomainError } from '#shared/errors.ts';

/** argon2id with 64 MiB and three passes: about 0.1 s here, and 128 MiB for two at once. */
const parameters = { memoryCost: 65_536, timeCost: 3, parallelism: 1 };
/** A core is left for everyone else: with two, one password is weighed at a time. */
const mostAtOnce = Math.max(1, Math.min(2, availableParallelism() - 1));
const mostWaiting = 20;

export const hashPassword = (password: string) => inTurn(() => hash(normal(password), parameters));

/**
 * Whether the password is the one of this hash. Without a hash the same work is done against a
 * hash of nothing, so that the time taken does not tell who has an account.
 */
export async function isPassword(
  passwordHash: string | null | undefined,
  password: string,
): Promise<boolean> {
  const stored = passwordHash ?? (await dummyHash());
  const isSame = await inTurn(() => verify(stored, normal(password)));
  return isSame && passwordHash !== null && passwordHash !== undefined;
}

/** Whether a hash was made with other parameters than today's. */
export function isOutdated(passwordHash: string): boolean {
  const made = parseOptions(passwordHash);
  return (
    made.memoryCost !== parameters.memoryCost ||
    made.timeCost !== parameters.timeCost ||
    made.parallelism !== parameters.parallelism
  );
}

// Phones and PCs may write one letter in two ways; both mean the same password.
const normal = (password: string) => password.normalize('NFC');

let dummy: Promise<string> | undefined;
function dummyHash(): Promise<string> {
  dummy ??= hash('', parameters);
  return dummy;
}

let running = 0;
const waiting: (() => void)[] = [];

async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (running >= mostAtOnce) {
    if (waiting.length >= mostWaiting)
      throw new DomainError('unavailable', 'Too many are signing in at once: try again shortly.');
    await new Promise<void>((resolve) => waiting.push(resolve));
  } else running += 1;
  try {
    return await work();
  } finally {
    const next = waiting.shift();
    if (next === undefined) running -= 1;
    else next();
  }
}
