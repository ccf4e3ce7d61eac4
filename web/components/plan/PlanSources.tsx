import type { Plan, PlanSource } from '#shared/plan/planView.ts';
import {
  amount,
  amountRange,
  day,
  figure,
  generation,
  percent,
  percentRange,
  scientific,
} from '../../format.ts';
import { RuledTable } from '../frame/RuledTable.tsx';
import { Tag } from '../frame/Status.tsx';
import { Why } from '../frame/Why.tsx';
import { cellsBetween, SourceName, slurryBasis } from './PlanShortages.tsx';
import { PlanSteps } from './PlanSteps.tsx';

/** The yeast there is and will be, what the plan gives away of it, and what to keep of each crop. */
export function PlanSources({ plan, names }: { plan: Plan; names: ReadonlyMap<string, string> }) {
  // What a planned brew will give is of interest once something is asked of it.
  const shown = plan.sources.filter(
    ({ kind, sharePlanned }) => kind !== 'planned crop' || sharePlanned > 0,
  );
  return (
    <section>
      <h2>Yeast in store and to come</h2>
      {shown.length === 0 ? (
        <NoYeast />
      ) : (
        <details class="more plan-sources">
          <summary>{shown.length} in all, and what is given away of each</summary>
          <RuledTable
            caption="Yeast in store and to come"
            quiet
            rows={shown}
            keyOf={({ id }) => id}
            columns={[
              { head: 'Yeast', names: true, cell: (source) => <Name source={source} /> },
              {
                head: 'There',
                cell: ({ readyAt, kind }) => (kind === 'lot' ? 'now' : day(readyAt)),
              },
              { head: 'Use by', cell: ({ useBy }) => (useBy === null ? '' : day(useBy)) },
              { head: 'Gen', cell: ({ generation: of }) => (of === null ? '' : generation(of)) },
              { head: 'Amount', numeric: true, cell: (source) => <Amount source={source} /> },
              { head: 'Living cells', numeric: true, cell: (source) => <Cells source={source} /> },
              { head: 'Given away', numeric: true, cell: (source) => <Given source={source} /> },
            ]}
          />
        </details>
      )}
      <Yields plan={plan} names={names} />
    </section>
  );
}

const chanceWords = (chance: number) =>
  chance > 0.99 ? 'over 99 %' : `of ${percent(100 * chance)}`;

function NoYeast() {
  return (
    <p class="empty">
      None. <a href="/yeast/new">Enter a fresh culture</a>, or <a href="/crop">crop an FV</a>: then
      the plan gives it to the brews.
    </p>
  );
}

function Amount({ source: { left, slurry } }: { source: PlanSource }) {
  if (left !== null) return <>{amount(left.amount, left.unit)}</>;
  if (slurry === null) return null;
  return (
    <>
      about {amount(slurry.value, slurry.unit)}
      <small class="plan-aside"> {amountRange(slurry.low, slurry.high, slurry.unit)}</small>
      <Why title="Why" isLong>
        <p class="prose">
          Its living cells as this strain’s usual slurry: cells to come {slurryBasis(slurry)}. The
          range is of 95 %, of the crop and of the slurry together.
        </p>
      </Why>
    </>
  );
}

function Name({ source: { id, label, heldBecause } }: { source: PlanSource }) {
  return (
    <>
      <SourceName id={id} label={label} />
      {heldBecause !== null && (
        <span class="plan-held">
          <Tag tone="stop">hold</Tag> {heldBecause}
        </span>
      )}
    </>
  );
}

function Cells({ source: { cells, why } }: { source: PlanSource }) {
  return (
    <>
      {scientific(cells.value)}
      <small class="plan-aside"> {cellsBetween(cells)}</small>
      <PlanSteps title="Why" steps={why} source="The range is of 95 %." />
    </>
  );
}

function Given({ source: { sharePlanned, chanceEnough, toKeep } }: { source: PlanSource }) {
  if (chanceEnough === null) return <>nothing</>;
  return (
    <>
      {percent(100 * sharePlanned)}
      <small class="plan-aside"> enough with a chance {chanceWords(chanceEnough)}</small>
      {toKeep !== null && (
        <small class="plan-aside">
          {' '}
          keep {figure(toKeep.ratio, 2)} times what was pitched or more (usual{' '}
          {figure(toKeep.usual.low, 2)} to {figure(toKeep.usual.high, 2)})
        </small>
      )}
    </>
  );
}

function Yields({ plan, names }: { plan: Plan; names: ReadonlyMap<string, string> }) {
  return (
    <Why title="Why a crop is reckoned so">
      <dl>
        {plan.yields.map(({ strainId, ratio, hoursToCrop, viabilityPercent, crops, basis }) => (
          <div key={strainId}>
            <dt>{names.get(strainId)}</dt>
            <dd>
              {figure(ratio.value, 2)} living cells kept for each one pitched (
              {figure(ratio.low, 2)} to {figure(ratio.high, 2)}), {figure(hoursToCrop.value, 2)} h
              after pitching, {percent(viabilityPercent.value, 1)} alive (
              {percentRange(viabilityPercent)}).{' '}
              {basis === 'own crops'
                ? `By ${crops} crops of your own, measured as the yeast pitched was and taken to be as thick.`
                : `Usual figures, common practice without a source: you have ${crops} crops measured as the yeast pitched was, and five are asked for.`}
            </dd>
          </div>
        ))}
      </dl>
      <p>
        The range is where the next crop falls in 95 of 100: log-normal, with Student’s t for the
        doubt about its spread.
      </p>
    </Why>
  );
}
