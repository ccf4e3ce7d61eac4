import type { Plan, PlanShortage } from '#shared/plan/planView.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import {
  amount,
  amountRange,
  cells,
  day,
  figure,
  moment,
  scientific,
  volume,
} from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { Why } from '../frame/Why.tsx';

/** The brews that will be short: how much is missing, what stands in the way, and what would help. */
export function PlanShortages({ plan }: { plan: Plan }) {
  if (plan.brews.length === 0) return null;
  return (
    <section>
      <h2>Falls short</h2>
      {plan.shortages.length === 0 ? (
        <p class="empty">Nothing: there will be yeast for every brew planned.</p>
      ) : (
        plan.shortages.map((shortage) => <Shortage key={shortage.brewId} shortage={shortage} />)
      )}
      {!plan.isProvenBest && (
        <p class="field-hint">
          There are so many ways to give the yeast out that not all were tried: a better one may
          exist.
        </p>
      )}
    </section>
  );
}

function Shortage({ shortage }: { shortage: PlanShortage }) {
  const { beer, onDay, neededCells, availableCells, missingCells, missingSlurry, volumeWithoutL } =
    shortage;
  const perCell = volumeWithoutL / missingCells.value;
  return (
    <article class="plan-short">
      <h3>
        {beer}, {day(onDay)}
      </h3>
      <Figure
        label="Wort left without yeast"
        value={volume(volumeWithoutL)}
        range={
          missingCells.low < missingCells.high
            ? `${volume(perCell * missingCells.low)} to ${volume(perCell * missingCells.high)}`
            : 'all of it'
        }
      >
        <p>
          It lacks about {amount(missingSlurry.value, missingSlurry.unit)} of its strain’s usual
          slurry ({amountRange(missingSlurry.low, missingSlurry.high, missingSlurry.unit)}).
        </p>
        <Why title={`Why ${volume(volumeWithoutL)}`}>
          <dl>
            <dt>Living cells missing</dt>
            <dd>{scientific(missingCells.value)}</dd>
            <dt>As slurry</dt>
            <dd>cells missing {slurryBasis(missingSlurry)}</dd>
            <dt>Needed</dt>
            <dd>{cells(neededCells)}: pitching rate × °P × volume</dd>
            <dt>Left for it once the other brews have theirs</dt>
            <dd>
              {availableCells.value === 0
                ? 'none'
                : `${cells(availableCells.value)} (${cellsBetween(availableCells)})`}
            </dd>
          </dl>
          <p>
            As many brews as can be are fed; of two ways that feed as many, the earlier brews come
            first. The range is of 95 %.
          </p>
        </Why>
      </Figure>
      <InTheWay shortage={shortage} />
      <WouldHelp shortage={shortage} />
    </article>
  );
}

/** What cells are divided by to say them as slurry, and on what that rests. */
export const slurryBasis = ({ cellsPerUnit, unit, lots }: PlanShortage['missingSlurry']) =>
  `÷ ${scientific(cellsPerUnit)} living cells/${unit}, ${
    lots === 0
      ? 'a guess for want of lots counted'
      : `as ${lots} lots counted before hold them, and as alive as a crop`
  }`;

function InTheWay({ shortage: { blocked } }: { shortage: PlanShortage }) {
  if (blocked.length === 0) return null;
  return (
    <>
      <h4>What stands in the way</h4>
      <ul class="plan-list">
        {blocked.map(({ sourceId, label, why }) => (
          <li key={sourceId}>
            <SourceName id={sourceId} label={label} />. {why}.
          </li>
        ))}
      </ul>
    </>
  );
}

function WouldHelp({ shortage: { cropMoreOf } }: { shortage: PlanShortage }) {
  return (
    <>
      <h4>What would help</h4>
      <ul class="plan-list">
        {cropMoreOf.map(({ sourceId, label, readyAt, ratio, usual }) => (
          <li key={sourceId}>
            Keep more of the {label}, about {moment(readyAt)}: {figure(ratio, 2)} times the cells
            pitched (usual {figure(usual.value, 2)}, {figure(usual.low, 2)} to{' '}
            {figure(usual.high, 2)}).
            {ratio > usual.high && ' That is more than it is likely to give.'}
          </li>
        ))}
        <li>
          Move the brew, make it smaller, or see{' '}
          <a href="#fresh">when fresh culture can be there</a>.
        </li>
      </ul>
    </>
  );
}

export function SourceName({ id, label }: { id: string; label: string }) {
  return id.startsWith('crop-') || id.startsWith('fresh-') ? (
    <span class="plan-source">{label}</span>
  ) : (
    <a href={`/yeast/${id}`}>{label}</a>
  );
}

export const cellsBetween = ({ low, high }: Ranged) => `${scientific(low)} to ${scientific(high)}`;
