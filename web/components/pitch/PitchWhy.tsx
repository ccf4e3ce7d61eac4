import type { LotByParts } from '#shared/lots/byParts.ts';
import { type KnownLot, unstained } from '#shared/lots/knownLot.ts';
import type { PitchStep } from '#shared/science/pitchSteps.ts';
import { ago, fixed, moment, percent, percentRange } from '../../format.ts';
import { Status } from '../frame/Status.tsx';
import { StepsOfSum } from '../frame/StepsOfSum.tsx';
import { Why } from '../frame/Why.tsx';

/** On what each lot's figure rests; a guess is called a guess. */
export function PitchEvidence({ lots }: { lots: readonly KnownLot[] }) {
  return (
    <Why title="What it rests on" open={lots.some((lot) => !lot.density.counted || !lot.isStained)}>
      {lots.map((lot) => (
        <dl key={lot.standing.id} class="rests-on">
          <dt>
            <a class="link" href={`/yeast/${lot.standing.id}`}>
              {lot.standing.code}
            </a>
          </dt>
          <dd>
            <Status verdict={lot.standing.verdict.verdict} />{' '}
            {lot.standing.verdict.reasons[0]?.text}
          </dd>
          <dt>Cells</dt>
          <dd>{cellsWords(lot)}</dd>
          <dt>Alive</dt>
          <dd>{aliveWords(lot)}</dd>
        </dl>
      ))}
    </Why>
  );
}

function cellsWords(lot: KnownLot): string {
  const { standing, density, correction } = lot;
  const { count } = standing;
  const corrected =
    correction === undefined ? '' : `; times ${fixed(correction, 2)} by the counts in the FV`;
  if (density.counted && count !== null)
    return `${count.cellsCounted} cells counted ${moment(count.at)}, ${ago(count.ageHours)}${count.stale ? ': stale' : ''}${corrected}`;
  if (density.counted) return 'Counted';
  const { id, name, source } = density.fallback;
  if (id === 'parts')
    return `Not counted itself: worked out from the lots in it, ${source}${corrected}.`;
  return `A guess, since it is ${density.why}: ${name.slice(0, 1).toLowerCase()}${name.slice(1)}. ${source}${corrected}.`;
}

function aliveWords({ standing }: KnownLot): string {
  const { stain, byParts } = standing;
  if (stain === null && byParts !== null) return partsAliveWords(byParts);
  if (stain === null)
    return `Not stained: ${unstained.percent} % is taken, ${unstained.low} to ${unstained.high} %. A guess, no source.`;
  return `${percent(stain.percent.value, 1)} (${percentRange(stain.percent)}) by ${stain.stain} ${moment(stain.at)}; now ${percent(stain.predictedNow.value, 1)} by prediction`;
}

function partsAliveWords({ percent: then, predictedNow, at, atMost, parts }: LotByParts): string {
  const guessed = parts.filter(({ isStained }) => !isStained).map(({ code }) => code);
  const guess =
    guessed.length === 0
      ? ''
      : ` ${guessed.join(' and ')} ${guessed.length === 1 ? 'was' : 'were'} not stained: ${unstained.percent} % is taken there, a guess.`;
  return `${atMost ? 'At most ' : ''}${percent(then.value, 1)} (${percentRange(then)}) when blended ${moment(at)}, worked out from the lots in it; now ${percent(predictedNow.value, 1)} by prediction.${guess}`;
}

/** The working, line by line. */
export function PitchSteps({ steps }: { steps: readonly PitchStep[] }) {
  return (
    <Why title="How it is worked out">
      <StepsOfSum look="steps-of-sum" steps={steps} />
      <p>
        The range is of 95 %: the errors of count, dilution, stain and storage are carried through
        as log-normal spreads, lots taken as independent. Ale rates of about 0.75 are second hand,
        after Fix; raising the pitch for weak yeast stops at 25 % by maltster guidance.
      </p>
    </Why>
  );
}
