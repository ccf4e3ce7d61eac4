/** Labels as they are sold; the page of each is set in styles/label.css under the same name. */
export const labelSizes = [
  { id: 'roll62', name: 'Roll, 62 × 40 mm', perSheet: 1 },
  { id: 'roll100', name: 'Roll, 100 × 50 mm', perSheet: 1 },
  { id: 'sheet24', name: 'A4 sheet of 24, 70 × 37 mm', perSheet: 24 },
  { id: 'a4', name: 'A4 page, one lot', perSheet: 1 },
] as const;

export type LabelSize = (typeof labelSizes)[number];

/** The labels of a sheet: blanks for those already used up, then the copies. */
export function labelPlaces(
  { perSheet }: LabelSize,
  { copies, from }: { copies: number; from: number },
): ('blank' | 'label')[] {
  const blanks = perSheet === 1 ? 0 : Math.min(perSheet, Math.max(1, from)) - 1;
  return [
    ...Array.from({ length: blanks }, () => 'blank' as const),
    ...Array.from({ length: Math.max(1, copies) }, () => 'label' as const),
  ];
}
