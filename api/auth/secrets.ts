import { randomBytes, timingSafeEqual } from 'node:crypto';
import { sha256 } from '#db/journal/hash.ts';
import { uuidV7 } from '#shared/uuid.ts';

/** 256 random bits as text fit for a cookie or an address. */
export const randomToken = () => randomBytes(32).toString('base64url');

/** Eight small letters and digits by which a device token is looked up; no secret. */
export const randomTokenId = () => randomBytes(4).toString('hex');

export const freshId = (nowMs: number) => uuidV7(nowMs, randomBytes(10));

// Without I, L, O, U, which are misread or misheard.
const letters = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** A one-time code to be read out or typed: 130 random bits in groups of letters and digits. */
export function randomCode(): string {
  const picked = [...randomBytes(26)].map((byte) => letters[byte % letters.length] ?? '');
  return picked.join('').replace(/(.{5})(?=.)/g, '$1-');
}

/** Only this is stored; a code is the same however it is typed. */
export const codeSha256 = (code: string) =>
  sha256(
    code
      .toUpperCase()
      .replace(/[^0-9A-Z]/g, '')
      .replace(/O/g, '0')
      .replace(/[IL]/g, '1'),
  );

/** Compares two hex digests in constant time. */
export const sameDigest = (a: string, b: string) =>
  a.length === b.length && timingSafeEqual(Buffer.from(a), Buffer.from(b));
