import { type StainName, stainOf } from '#shared/science/stains.ts';
import { type Viability, viabilityFromStain } from '#shared/science/viability.ts';
import { percent, percentRange } from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { Why } from '../frame/Why.tsx';

type StainResultProps = {
  live: number | undefined;
  dead: number | undefined;
  stain: StainName;
  limitPercent: number;
};

const isCount = (cells: number | undefined): cells is number =>
  cells !== undefined && Number.isInteger(cells) && cells >= 0;

/** Viability with its range; below what the stain can tell, "at or below". */
export function StainResult({ live, dead, stain, limitPercent }: StainResultProps) {
  if (!isCount(live) || !isCount(dead) || live + dead === 0)
    return <p class="waiting">Enter live and dead cells: the viability stands here.</p>;
  const viability = viabilityFromStain({ live, dead, stain });
  const isBelow = viability.validity === 'at or below';
  return (
    <>
      <Figure
        label="Viability"
        value={`${isBelow ? 'at or below ' : ''}${percent(viability.percent, 1)}`}
        range={percentRange(viability)}
        size="huge"
      >
        <p>{`${live} live of ${viability.cellsCounted} cells`}</p>
      </Figure>
      <p class={isBelow ? 'warning' : undefined}>{viability.note}</p>
      <p>{againstLimit(viability, limitPercent)}</p>
      <Why title="How this came about">
        <p>
          {`100 × live ÷ (live + dead). The range holds the true share of cells that stain as live 95 times in 100 (Wilson 1927).`}
        </p>
        <p>{`Limit of the stain: ${viability.floorPercent} %. ${stainOf(stain).floorSource}.`}</p>
      </Why>
    </>
  );
}

function againstLimit({ low, high, percent: shown }: Viability, limit: number): string {
  const named = `the house limit of ${percent(limit)}`;
  if (high < limit) return `All of the range is under ${named}.`;
  if (low >= limit) return `All of the range is over ${named}.`;
  return `${shown < limit ? 'Under' : 'Over'} ${named}, but the range crosses it: more cells would settle it.`;
}
