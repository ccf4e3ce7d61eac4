import { amount, amountRange, cells, figure, percent, rate } from '../format.ts';
import { Figure } from './Figure.tsx';
import { assumedViabilityPercent, type LotUse, lotDensity, type PitchSum } from './pitchSum.ts';
import { ReasonList } from './ReasonList.tsx';
import { Status } from './Status.tsx';
import { Why } from './Why.tsx';

/** What the sum says: the amount, how sure it is, what is left, and every step of it. */
export function PitchResult({ sum, uses }: { sum: PitchSum; uses: readonly LotUse[] }) {
  if (!('reply' in sum))
    return (
      <section class="result" aria-label="The amount">
        <p class="empty">{sum.lacking}</p>
      </section>
    );
  const { reply } = sum;
  return (
    <section class="result" aria-label="The amount">
      {reply.lots.map((part, index) => (
        <Figure
          key={part.id}
          label={`Pitch of ${part.id}`}
          value={amount(part.amount, part.unit)}
          range={part.low === part.high ? undefined : amountRange(part.low, part.high, part.unit)}
          size={index === 0 ? 'huge' : 'large'}
        >
          {part.leftAfter !== null && <p>{amount(part.leftAfter, part.unit)} left after.</p>}
          {part.overdrawn && <p class="warning">More than is left of it.</p>}
          {part.weak.verdict !== 'normal' && <p class="warning">{part.weak.reason}.</p>}
        </Figure>
      ))}
      {reply.shortage !== null && (
        <p class="warning">
          Short by {percent(100 * reply.shortage.fraction)} of the cells needed: choose another lot
          too.
        </p>
      )}
      <p>
        That is {rate(reply.achieved.rateMillionPerMlPerPlato)} ({figure(reply.achieved.low)} to{' '}
        {figure(reply.achieved.high)}, 95 %).
        {reply.chanceBelow.map(({ fraction, chance }) => (
          <>
            {' '}
            Chance of less than {percent(100 * fraction)} of the target: {percent(100 * chance)}.
          </>
        ))}
      </p>
      {reply.narrowing.slice(0, 1).map((step) => (
        <p key={step.measurement}>
          Another {step.measurement} would bring it from ± {percent(step.fromPercent)} to ±{' '}
          {percent(step.toPercent)}.
        </p>
      ))}
      {uses.map(({ lot }) => (
        <Evidence key={lot.id} lot={lot} />
      ))}
      <Why title="Why this amount">
        <dl>
          {reply.why.map((step) => (
            <>
              <dt>{step.label}</dt>
              <dd>
                {step.unit.startsWith('cells') ? cells(step.value) : figure(step.value)} {step.unit}
                <br />
                <small>{step.formula}</small>
              </dd>
            </>
          ))}
        </dl>
        <p>
          The range is of 95 %: the errors of count, dilution, stain and storage carried through as
          log-normal spreads.
        </p>
      </Why>
    </section>
  );
}

function Evidence({ lot }: { lot: LotUse['lot'] }) {
  return (
    <>
      <p>
        <Status verdict={lot.verdict.verdict} /> {lot.code}
        {lotDensity(lot).isCounted
          ? ''
          : ': not counted, so a usual density with its wide spread is taken'}
        {lot.stain === null ? `; not stained, ${assumedViabilityPercent} % alive is assumed` : ''}.
      </p>
      {lot.verdict.verdict !== 'fit' && (
        <Why title={`Why ${lot.code} is ${lot.verdict.verdict}`}>
          <ReasonList lot={lot} />
        </Why>
      )}
    </>
  );
}
