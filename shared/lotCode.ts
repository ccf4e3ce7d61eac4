/**
 * The start of a lot's code: the strain's short code, then where the lot comes from. A crop bears
 * the gyle it was taken from; `lotCode` adds the first free letter or number.
 */
export type LotOrigin =
  | { kind: 'crop'; strainCode: string; gyle: string }
  | { kind: 'freshCulture' | 'blend'; strainCode: string }
  | { kind: 'transfer'; sentCode: string; siteCode: string };

/** A short readable code no other lot bears: TW-412A for a crop, TW-F3, TW-B2, TW-412A-W when sent to W. */
export function lotCode(origin: LotOrigin, isTaken: (code: string) => boolean): string {
  for (let nth = 1; ; nth += 1) {
    const code = candidate(origin, nth);
    if (!isTaken(code)) return code;
  }
}

export function lotCodePrefix(origin: LotOrigin): string {
  switch (origin.kind) {
    case 'crop':
      return `${origin.strainCode}-${origin.gyle.replaceAll('/', '-')}`;
    case 'freshCulture':
      return `${origin.strainCode}-F`;
    case 'blend':
      return `${origin.strainCode}-B`;
    case 'transfer':
      return `${origin.sentCode}-${origin.siteCode}`;
  }
}

const letters = 'ABCDEFGHJKLMNPQRSTUVWXYZ';

function candidate(origin: LotOrigin, nth: number): string {
  const prefix = lotCodePrefix(origin);
  if (origin.kind === 'transfer') return nth === 1 ? prefix : `${prefix}${nth}`;
  if (origin.kind !== 'crop') return `${prefix}${nth}`;
  const letter = letters[nth - 1];
  return letter === undefined ? `${prefix}-${nth}` : `${prefix}${letter}`;
}
