import type { LotCount, LotStain, LotStanding } from '#shared/views.ts';
import {
  amount,
  cellsPer,
  cellsRange,
  duration,
  fixed,
  generation,
  moment,
  percent,
  percentRange,
  temperature,
} from '../format.ts';
import { Figure } from './Figure.tsx';
import { Why } from './Why.tsx';

/** What is left of a lot and what is known of it, each figure with its ground. */
export function LotFigures({ lot }: { lot: LotStanding }) {
  return (
    <div class="figures figures-three">
      <Figure
        label="Left"
        value={amount(lot.left, lot.unit)}
        range={`of ${amount(lot.amount, lot.unit)}`}
        size="huge"
      />
      <Figure label="Cells" {...countFigure(lot.count)}>
        {lot.count === null ? (
          <a class="link" href={`/bench?lot=${lot.id}`}>
            Count it
          </a>
        ) : (
          <CountWhy count={lot.count} />
        )}
      </Figure>
      <Figure label="Alive now" {...stainFigure(lot.stain)}>
        {lot.stain === null ? (
          <a class="link" href={`/bench?lot=${lot.id}`}>
            Stain it
          </a>
        ) : (
          <StainWhy stain={lot.stain} />
        )}
      </Figure>
      <Figure
        label="Generation"
        value={generation(lot.generation)}
        range={timesPitched(lot.timesPitched)}
      />
      <Figure label="Age" value={duration(lot.ageHours)} range={`since ${moment(lot.takenAt)}`} />
      <Figure
        label="Temperature in store"
        value={lot.latestTempC === null ? 'not taken' : temperature(lot.latestTempC)}
        range={lot.warmestTempC === null ? undefined : `warmest ${temperature(lot.warmestTempC)}`}
      />
    </div>
  );
}

const timesPitched = (times: number) =>
  times === 0 ? 'fresh' : `after ${times} ${times === 1 ? 'pitching' : 'pitchings'}`;

function countFigure(count: LotCount | null) {
  if (count === null) return { value: 'not counted' };
  return {
    value: cellsPer(count.cellsPer.value, count.basis),
    range: cellsRange(count.cellsPer, count.basis),
  };
}

function CountWhy({ count }: { count: LotCount }) {
  return (
    <Why title="How it was counted">
      <p>
        {count.cellsCounted} cells counted {moment(count.at)}, {duration(count.ageHours)} ago
        {count.stale ? ': stale by the limit of the strain' : ''}. The range is of 95 %: chance
        (exact Poisson limits), chamber filling and pipetting (Berkson and others 1939, from
        memory).
        {count.clumped
          ? ' The squares differ more than chance allows: clumped or badly mixed.'
          : ''}
      </p>
    </Why>
  );
}

function stainFigure(stain: LotStain | null) {
  if (stain === null) return { value: 'not stained' };
  const { predictedNow, validity } = stain;
  const figure = percent(predictedNow.value, 1);
  return {
    value: validity === 'at or below' ? `${figure} or worse` : figure,
    range: percentRange(predictedNow),
  };
}

function StainWhy({ stain }: { stain: LotStain }) {
  const { live, dead, percent: measured, predictedNow } = stain;
  return (
    <Why title="How it was stained">
      <p>
        {live} live and {dead} dead by {stain.stain}, {moment(stain.at)}:{' '}
        {percent(measured.value, 1)} alive then ({percentRange(measured)}, Wilson limits).{' '}
        {stain.note}
      </p>
      <p>
        Since then its temperatures aged it as {fixed(predictedNow.equivalentDays, 1)} days at 1 °C
        do. The figure for now is a prediction, fitted to one lager strain (McCaig and Bendiak
        1985), never a measurement.
      </p>
    </Why>
  );
}
