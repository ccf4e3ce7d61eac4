/** A share [%] to a tenth: verdicts, pages and tables tell the same figure in the same rounding. */
export const shareWords = (percent: number) => `${percent.toFixed(1)} %`;

/** "92.7 to 96.8 %". */
export const shareRangeWords = ({ low, high }: { low: number; high: number }) =>
  `${low.toFixed(1)} to ${shareWords(high)}`;
