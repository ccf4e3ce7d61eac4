import type { LotByParts } from '#shared/lots/byParts.ts';
import { partsWords } from '#shared/lots/knownLot.ts';
import type { LotCount, LotStain, LotStanding } from '#shared/views/lots.ts';
import {
  ago,
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
} from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { Why } from '../frame/Why.tsx';
import { StorageLossWords } from './StorageLossWords.tsx';

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
      <Figure label="Cells" {...countFigure(lot)}>
        {lot.count === null ? (
          <>
            {lot.byParts !== null && <PartsWhy parts={lot.byParts} />}
            <a class="link" href={`/bench?lot=${lot.id}`}>
              Count it
            </a>
          </>
        ) : (
          <CountWhy count={lot.count} />
        )}
      </Figure>
      <Figure
        label={lot.stain === null && lot.byParts === null ? 'Alive' : 'Alive now, predicted'}
        {...stainFigure(lot)}
      >
        {lot.stain === null ? (
          <a class="link" href={`/bench?lot=${lot.id}&do=stain`}>
            Stain it
          </a>
        ) : (
          <>
            <StainAgain stain={lot.stain} limit={lot.strain.minViabilityPercent} />
            <StainWhy stain={lot.stain} lot={lot} />
          </>
        )}
      </Figure>
      <Figure
        label="Generation"
        value={generation(lot.generation)}
        range={timesPitched(lot.timesPitched)}
      />
      <Figure
        label={lot.record.kind === 'blend' ? 'Age of the oldest in it' : 'Age'}
        value={duration(lot.ageHours)}
        range={`since ${moment(lot.takenAt)}`}
      />
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

function countFigure({ count, byParts, unit }: LotStanding) {
  if (count === null) {
    if (byParts === null) return { value: 'not counted' };
    const basis = unit === 'L' ? 'mL' : 'g';
    return {
      value: cellsPer(byParts.cellsPer.value, basis),
      range: `${cellsRange(byParts.cellsPer, basis)}, by the lots in it`,
    };
  }
  return {
    value: cellsPer(count.cellsPer.value, count.basis),
    range: cellsRange(count.cellsPer, count.basis),
  };
}

function PartsWhy({ parts }: { parts: LotByParts }) {
  return (
    <Why title="How this is known">
      <p>
        Nobody counted the blend itself. Its cells are those of the lots in it, by how much of each
        went in {moment(parts.at)}: {partsWords(parts)}. The range carries the errors of every lot.
      </p>
    </Why>
  );
}

function CountWhy({ count }: { count: LotCount }) {
  return (
    <Why title="How it was counted">
      <p>
        {count.cellsCounted} cells counted {moment(count.at)}, {ago(count.ageHours)}
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

function stainFigure({ stain, byParts }: LotStanding) {
  const known = stain ?? byParts;
  if (known === null) return { value: 'not stained' };
  const { predictedNow } = known;
  const isMost = stain === null ? byParts?.atMost : stain.validity === 'at or below';
  const figure = percent(predictedNow.value, 1);
  return isMost
    ? { value: `${figure} or worse`, range: `${percent(predictedNow.high, 1)} at the very most` }
    : { value: figure, range: percentRange(predictedNow) };
}

/** A prediction that may lie on either side of the limit settles nothing. */
function StainAgain({ stain: { predictedNow }, limit }: { stain: LotStain; limit: number }) {
  const { low, high } = predictedNow;
  if (!(low < limit && limit <= high)) return null;
  return (
    <p class="warning">
      The range lies on both sides of the {percent(limit)} limit: stain it again.
    </p>
  );
}

function StainWhy({ stain, lot }: { stain: LotStain; lot: LotStanding }) {
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
        do. The figure for now is a prediction, never a measurement.
      </p>
      <StorageLossWords loss={lot.learned.storageLoss} strain={lot.strain.name} />
    </Why>
  );
}
