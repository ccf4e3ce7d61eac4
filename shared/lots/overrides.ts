export type OverrideWhat = 'pitched' | 'mixed' | 'washed';

/** Something a rule spoke against, done all the same for a reason that stays with the yeast. */
export type Override = {
  /** The record it shows on: the lot itself, a lot mixed from it or sent on, a ferment pitched with it. */
  on: string;
  what: OverrideWhat;
  recordId: string;
  lotId: string;
  lotCode: string;
  why: string;
  at: string;
  by: string;
};

export const overrideWords = {
  pitched: 'pitched all the same',
  mixed: 'mixed all the same',
  washed: 'washed all the same',
} as const satisfies Record<OverrideWhat, string>;

/** Why, and of which lot where that is not the record it stands on. */
export function overrideReason({ on, lotId, lotCode, why }: Override): string {
  return on === lotId ? why : `${lotCode}: ${why}`;
}

/** As one cell of a table: "washed all the same: TN-412A: …, 2026-03-02T10:00:00.000Z, Ines". */
export function overridesCell(overrides: readonly Override[]): string {
  return overrides
    .map((each) =>
      [`${overrideWords[each.what]}: ${overrideReason(each)}`, each.at, each.by].join(', '),
    )
    .join('; ');
}
