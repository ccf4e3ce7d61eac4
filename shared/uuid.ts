/**
 * A version 7 UUID from a moment and ten random bytes (RFC 9562, section 5.7).
 *
 * @param epochMs  moment [ms since 1970], 0 to 2^48 - 1
 * @param random  ten random bytes; the caller's source of randomness
 */
export function uuidV7(epochMs: number, random: Uint8Array): string {
  if (random.length < 10) throw new RangeError('uuidV7: random must hold 10 bytes');
  const time = Math.trunc(epochMs).toString(16).padStart(12, '0');
  const hex = [...random.slice(0, 10)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  const variant = ((Number.parseInt(hex.slice(4, 5), 16) & 0x3) | 0x8).toString(16);
  return [
    time.slice(0, 8),
    time.slice(8),
    `7${hex.slice(1, 4)}`,
    `${variant}${hex.slice(5, 8)}`,
    hex.slice(8, 20),
  ].join('-');
}
