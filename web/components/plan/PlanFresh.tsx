import { hourMs } from '#shared/durations.ts';
import type { FreshNeed } from '#shared/plan/freshView.ts';
import type { Plan } from '#shared/plan/planView.ts';
import { cells, day, duration, figure, millionPerMl, moment } from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { RuledTable } from '../frame/RuledTable.tsx';
import { Why } from '../frame/Why.tsx';
import { PlanPolicyForm } from '../setup/PlanPolicyForm.tsx';
import { PlanCosts } from './PlanCosts.tsx';

type Props = { plan: Plan; onChanged: () => void };

/** For each strain: when fresh culture is wanted, when to start, and what it costs against waiting. */
export function PlanFresh({ plan, onChanged }: Props) {
  if (plan.fresh.length === 0) return null;
  return (
    <section id="fresh">
      <h2>Fresh culture</h2>
      <div class="side-by-side">
        {plan.fresh.map((fresh) => (
          <article key={fresh.strain.id} class="plan-fresh">
            <h3>{fresh.strain.name}</h3>
            <Need fresh={fresh} plan={plan} />
            {fresh.cost !== null && <PlanCosts cost={fresh.cost} line={fresh.line} />}
            <Opens
              label={
                fresh.policy === null
                  ? 'Enter how it comes in, and its costs'
                  : 'Order, steps and costs'
              }
              title={`How fresh ${fresh.strain.name} comes in`}
            >
              {(close) => (
                <PlanPolicyForm
                  fresh={fresh}
                  onSaved={() => {
                    announce('Recorded; the plan reckons with it.');
                    close();
                    onChanged();
                  }}
                />
              )}
            </Opens>
          </article>
        ))}
      </div>
    </section>
  );
}

function Need({ fresh, plan }: { fresh: FreshNeed; plan: Plan }) {
  const { need, comesFrom, strain } = fresh;
  if (need === null)
    return (
      <p class="prose">
        Neither the brews planned nor its line ask for any. The date of the generation limit shows
        once a line has been pitched through three generations.
      </p>
    );
  const verb = comesFrom === 'bought' ? 'Order by' : 'Wake the slope by';
  const isUnderWay = need.expectedOn !== null;
  return (
    <>
      <Figure
        label={isUnderWay ? 'Expected' : verb}
        value={day(need.expectedOn ?? need.startBy)}
        range={`wanted ${day(need.onDay)}, because of ${need.because}`}
      >
        <Why title="Why then">
          <dl>
            {need.limits.map(({ driver, onDay, text }) => (
              <div key={driver}>
                <dt>{day(onDay)}</dt>
                <dd>{text}</dd>
              </div>
            ))}
            <dt>Time it takes</dt>
            <dd>
              {need.leadDays} days{' '}
              {need.steps.length > 0
                ? 'in the steps below'
                : '(the lead time of the strain in Setup)'}
            </dd>
          </dl>
          <p>
            The earliest limit decides. The date of the generation limit is this line’s own pace
            carried on, and has no range; the limit itself is house policy, not science.
          </p>
        </Why>
      </Figure>
      {need.isLate && (
        <p class="warning">
          {isUnderWay ? 'It comes' : `Started today it is there ${day(need.earliestDay)},`} too late
          for {day(need.onDay)}
          {plan.shortages.some(({ strainId }) => strainId === strain.id)
            ? `: see what would help the brew that is short.`
            : '.'}
        </p>
      )}
      <Steps need={need} />
    </>
  );
}

function Steps({ need }: { need: NonNullable<FreshNeed['need']> }) {
  if (need.steps.length === 0 || need.propagationL === null) return null;
  const numbered = need.steps.map((step, index) => ({ ...step, number: index + 1 }));
  return (
    <details class="more">
      <summary>
        {numbered.length} steps from the slope to {volumeOf(need.propagationL)}
      </summary>
      <RuledTable
        caption={`Steps from the slope to ${volumeOf(need.propagationL)} for ${need.beer ?? 'the brew'}`}
        rows={numbered}
        keyOf={({ number }) => String(number)}
        columns={[
          { head: 'Step', names: true, cell: ({ number }) => number },
          { head: 'Start', cell: ({ startAt }) => moment(startAt) },
          { head: 'Volume', numeric: true, cell: ({ volumeL }) => volumeOf(volumeL) },
          {
            head: 'Times',
            numeric: true,
            cell: ({ stepRatio }) => (stepRatio === undefined ? 'slope' : figure(stepRatio, 2)),
          },
          {
            head: 'Cells at its end',
            numeric: true,
            cell: ({ endingCellsPerMl }) => millionPerMl(endingCellsPerMl),
          },
          {
            head: 'Lasts',
            numeric: true,
            cell: ({ startAt, endAt }) =>
              duration((Date.parse(endAt) - Date.parse(startAt)) / hourMs),
          },
        ]}
      />
      <Why title="Why these steps">
        <p>
          {need.neededCells === null ? '' : `The brew needs ${cells(need.neededCells)}. `}
          Volume of the last step is cells ÷ cells per mL; the steps before it are equal in ratio,
          none greater than the greatest step. At most ten times a step and 24 to 72 hours each:
          common advice of yeast laboratories, no source. About 50 million/mL standing still
          (Bokulich &amp; Bamforth 2017), 100 to 200 aerated. A range of a half to twice is usual:
          count before you step up.
        </p>
      </Why>
    </details>
  );
}

/** A flask in millilitres, a vessel in litres. */
const volumeOf = (volumeL: number) =>
  volumeL < 1 ? `${figure(1000 * volumeL, 2)} mL` : `${figure(volumeL, 3)} L`;
