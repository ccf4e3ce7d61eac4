import { againstLimit, contaminantsPerMillion } from '#shared/science/contaminants.ts';
import type { Ranged } from '#shared/views/recorded.ts';

type PlateCounts = {
  colonies?: number | undefined;
  cellsPlated?: number | undefined;
  /** Where a share is read, such as petites: of how many looked at. */
  ofColonies?: number | undefined;
};

/** Contaminants per million cells with their 95 % limits, and how they stand to a discard limit. */
export type PlateFigure = { perMillion: Ranged; against: 'over' | 'unclear' | 'under' | null };

/** Null where colonies or cells plated were not written down, or a share was read instead. */
export function plateFigure(
  { colonies, cellsPlated, ofColonies }: PlateCounts,
  discardPerMillion?: number,
): PlateFigure | null {
  if (ofColonies !== undefined || colonies === undefined) return null;
  if (cellsPlated === undefined || cellsPlated <= 0) return null;
  const perMillion = contaminantsPerMillion(colonies, cellsPlated);
  const against =
    discardPerMillion === undefined ? null : againstLimit(perMillion, discardPerMillion);
  return { perMillion, against };
}

/** "46 colonies, 15.3 per million (11.2 to 20.5)"; empty when nothing was counted. */
export function plateWords(counts: PlateCounts): string {
  const { colonies } = counts;
  if (colonies === undefined) return '';
  if (counts.ofColonies !== undefined) return `${colonies} of ${counts.ofColonies} colonies`;
  const seen =
    colonies === 0 ? 'no colony' : `${colonies} ${colonies === 1 ? 'colony' : 'colonies'}`;
  const figure = plateFigure(counts);
  if (figure === null) return seen;
  const { value, low, high } = figure.perMillion;
  return colonies === 0
    ? `${seen}, less than ${short(high)} per million`
    : `${seen}, ${short(value)} per million (${short(low)} to ${short(high)})`;
}

const short = (value: number) =>
  value >= 100 ? value.toFixed(0) : String(Number(value.toPrecision(3)));
