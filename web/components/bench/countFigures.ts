import { cellConcentration } from '#shared/science/cellCount.ts';
import type { CellCount } from '#shared/science/countSetup.ts';
import { wilsonInterval } from '#shared/science/proportionInterval.ts';
import type { Tally } from '#shared/tally.ts';
import { millions, percent, percentRange } from '../../format.ts';
import type { TallyFigure } from './TallyPanel.tsx';

/** What stands large while cells are tallied: how many there are, and how many of them live. */
export function countFigures(
  tally: Tally,
  count: CellCount | undefined,
  basis: 'mL' | 'g',
): TallyFigure[] {
  return [...concentrationFigure(count, basis), ...liveFigure(tally)];
}

function concentrationFigure(count: CellCount | undefined, basis: 'mL' | 'g'): TallyFigure[] {
  const label = `Million per ${basis}, by finished squares`;
  if (count === undefined) return [{ label, value: '–', range: '' }];
  const { cellsPerMl, low, high } = cellConcentration(count);
  return [
    {
      label,
      value: millions(cellsPerMl),
      range: `${millions(low)} to ${millions(high)}`,
    },
  ];
}

const aliveSoFar = 'Alive so far';

/** Live cells in a hundred so far; nothing before the first cell. */
export function liveFigure({ live, dead }: Tally): TallyFigure[] {
  const all = live + dead;
  if (all === 0) return [{ label: aliveSoFar, value: '–', range: '' }];
  const { low, high } = wilsonInterval(live, all);
  return [
    {
      label: aliveSoFar,
      value: percent((100 * live) / all, 1),
      range: percentRange({ low: 100 * low, high: 100 * high }),
    },
  ];
}
