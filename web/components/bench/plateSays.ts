import { petitePercent } from '#shared/lots/petites.ts';
import { plateFigure } from '#shared/micro/plateFigure.ts';
import type { PlateStanding } from '#shared/views/lots.ts';
import { figure } from '../../format.ts';

type Typed = { colonies?: number | undefined; ofColonies?: number | undefined };

/** What a plate tells as it is being read, and how that stands to the limit of its medium. */
export function plateSays(plate: PlateStanding, { colonies, ofColonies }: Typed): string {
  if (colonies === undefined) return 'Type the colonies to see what they come to.';
  if (ofColonies !== undefined)
    return ofColonies >= colonies && ofColonies > 0
      ? `${range(petitePercent(colonies, ofColonies), '%')}.`
      : 'More colonies than were looked at: check the two.';
  const found = plateFigure(
    { colonies, cellsPlated: plate.cellsPlated ?? undefined },
    plate.discardPerMillion ?? undefined,
  );
  if (found === null) return 'How many cells were plated is not written down: no figure.';
  return `${range(found.perMillion, 'per million cells')}. ${againstWords(plate, found.against)}`;
}

const againstWords = ({ discardPerMillion }: PlateStanding, against: string | null) =>
  ({
    over: `Over the ${discardPerMillion} at which the yeast is thrown away.`,
    unclear: `It may lie over the ${discardPerMillion} at which the yeast is thrown away, or under: plate more cells, or throw it away.`,
    under: `Under the ${discardPerMillion} at which the yeast is thrown away; ideally there is none.`,
  })[against ?? ''] ?? 'No discard limit is published for this medium; ideally there is none.';

export const range = (
  { value, low, high }: { value: number; low: number; high: number },
  unit: string,
) =>
  value === 0
    ? `less than ${figure(high)} ${unit}`
    : `${figure(value)} ${unit} (${figure(low)} to ${figure(high)})`;
