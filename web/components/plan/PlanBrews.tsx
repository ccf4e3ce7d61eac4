import type { Plan, PlanBrew, PlanPart } from '#shared/plan/planView.ts';
import {
  amount,
  amountRange,
  day,
  fixed,
  generation,
  gravity,
  percent,
  percentRange,
  volume,
} from '../../format.ts';
import { Tag, type Tone } from '../frame/Status.tsx';
import { collectHref } from './collectHref.ts';
import { SourceName } from './PlanShortages.tsx';
import { PlanSteps } from './PlanSteps.tsx';
import { PlanYeastChoice } from './PlanYeastChoice.tsx';

const states: Record<PlanBrew['state'], { tone: Tone; word: string }> = {
  fed: { tone: 'good', word: 'yeast for it' },
  tight: { tone: 'watch', word: 'tight' },
  short: { tone: 'stop', word: 'short' },
};

/** The brews to come, each with the yeast the plan gives it. */
export function PlanBrews({ plan, onChanged }: { plan: Plan; onChanged: () => void }) {
  return (
    <section>
      <h2>Brews ahead</h2>
      {plan.brews.length === 0 ? (
        <p class="empty">
          No brew is planned until {day(plan.toDay)}. Write the next ones below: then the plan says
          which yeast feeds which.
        </p>
      ) : (
        <ol class="plan-brews">
          {plan.brews.map((brew) => (
            <li key={brew.id} id={brew.id}>
              <Brew plan={plan} brew={brew} onChanged={onChanged} />
            </li>
          ))}
        </ol>
      )}
    </section>
  );
}

type Props = { plan: Plan; brew: PlanBrew; onChanged: () => void };

function Brew({ plan, brew, onChanged }: Props) {
  const { beer, onDay, state, kind, volumeL, originalGravitySg, vessel, parts, note } = brew;
  const { tone, word } = states[state];
  return (
    <details class="plan-brew" open={isOpenAtFirst(brew)}>
      <summary>
        <h3>
          {day(onDay)}, {beer}
        </h3>
        <Tag tone={tone}>{word}</Tag>
        <span class="plan-brew-yeast">{parts.map(inShort).join(' and ')}</span>
      </summary>
      <p class="plan-wort">
        {[volume(volumeL), `OG ${gravity(originalGravitySg)}`, vessel, note]
          .filter((text) => text !== null)
          .join(' · ')}
      </p>
      {parts.map((part) => (
        <Part key={part.sourceId} part={part} />
      ))}
      {state === 'tight' && (
        <p class="warning">
          Of ten such crops or counts about{' '}
          {Math.max(1, Math.round(10 * (1 - (brew.chanceEnough ?? 0))))} would not be enough: have
          something in reserve.
        </p>
      )}
      {kind === 'collected' ? (
        <p class="actions">
          <a class="button" href={`/pitch?ferment=${brew.id}`}>
            Pitch it
          </a>
        </p>
      ) : (
        <>
          <PlanYeastChoice plan={plan} brew={brew} onChanged={onChanged} />
          <p class="actions">
            <a class="button quiet" href={collectHref(brew.id)}>
              Collect it
              <span class="unseen">
                : {beer}, {day(onDay)}
              </span>
            </a>
          </p>
        </>
      )}
    </details>
  );
}

/** What is asked for by a link, or waits for a person, lies open. */
const isOpenAtFirst = ({ id, kind, allotments }: PlanBrew) =>
  location.hash === `#${id}` || kind === 'collected' || allotments.some(({ holds }) => !holds);

const taken = ({ amount: of, shareOfSource, isToCome }: PlanPart) =>
  of === null || isToCome
    ? `${percent(100 * shareOfSource)} of the`
    : `${amount(of.value, of.unit)} of`;

const inShort = (part: PlanPart) =>
  part.isToCome && part.amount !== null
    ? `${taken(part)} ${part.label}, about ${amount(part.amount.value, part.amount.unit)}`
    : `${taken(part)} ${part.label}`;

function Part({ part }: { part: PlanPart }) {
  const { sourceId, label, viabilityPercent, storedDays } = part;
  return (
    <div class="plan-part">
      <p>
        <strong>{taken(part)}</strong> <SourceName id={sourceId} label={label} />
        {part.amount !== null && (
          <span class="plan-range">
            {part.isToCome && `about ${amount(part.amount.value, part.amount.unit)} of slurry, `}
            {amountRange(part.amount.low, part.amount.high, part.amount.unit)}
          </span>
        )}
        {part.isSetByHand && <Tag tone="plain">set by hand</Tag>}
      </p>
      <p class="plan-aside">
        {generation(part.generation)}, {fixed(storedDays, 1)} days kept by then,{' '}
        {percent(viabilityPercent.value, 1)} alive ({percentRange(viabilityPercent)}), predicted
      </p>
      <PlanSteps
        title="Why so much"
        steps={part.why}
        source="The same sums as when it is pitched; the loss in store is the strain’s own where there are stains to learn it from. The range is of 95 %."
      />
    </div>
  );
}
