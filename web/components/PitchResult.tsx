import type { KnownLot } from '#shared/lots/knownLot.ts';
import type { PitchPlan } from '#shared/science/pitch.ts';
import { weakYeastVerdict } from '#shared/science/weakYeast.ts';
import { amount, amountRange, fixed, percent, rate } from '../format.ts';
import { Figure } from './Figure.tsx';
import { PitchEvidence, PitchSteps } from './PitchWhy.tsx';
import type { PitchSum } from './pitchSum.ts';
import { Tag } from './Status.tsx';

type WorkedOut = Extract<PitchSum, { kind: 'worked out' }>;
type Part = PitchPlan['lots'][number];

/** Less than this is lost in the measuring of any amount [-]. */
const TOLD_SHORTAGE = 0.02;

/** What the sum says: how much of which lot, how sure that is, and every step of it. */
export function PitchResult({ sum }: { sum: PitchSum }) {
  return (
    <section class="result" aria-label="How much to pitch">
      {sum.kind === 'waiting' && <p class="waiting">{sum.lacking}</p>}
      {sum.kind === 'refused' && <Refused why={sum.why} />}
      {sum.kind === 'worked out' && <Amounts sum={sum} />}
    </section>
  );
}

function Refused({ why }: { why: readonly string[] }) {
  return (
    <div class="refused">
      <p>
        <Tag tone="stop">do not pitch it</Tag>
      </p>
      {why.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <p>
        No amount is worked out: more of it would bring more dead cells too. Take another lot, or{' '}
        <a href="/yeast/new">fresh culture</a>.
      </p>
    </div>
  );
}

function Amounts({ sum }: { sum: WorkedOut }) {
  const { plan, lots } = sum;
  return (
    <>
      {plan.lots.map((part, index) => (
        <LotAmount key={part.id} part={part} lot={lots[index]} isFirst={index === 0} />
      ))}
      {plan.shortage !== undefined && plan.shortage.fraction >= TOLD_SHORTAGE && (
        <p class="warning">
          Not enough yeast: {percent(100 * plan.shortage.fraction)} of the cells are lacking. Add
          another lot, or accept a lower rate.
        </p>
      )}
      <Sureness sum={sum} />
      <PitchEvidence lots={lots} />
      <PitchSteps steps={plan.steps} />
    </>
  );
}

function LotAmount({
  part,
  lot,
  isFirst,
}: {
  part: Part;
  lot: KnownLot | undefined;
  isFirst: boolean;
}) {
  const isFixed = lot?.pitchLot.use !== undefined;
  const isIdle = !isFixed && part.amount === 0;
  const hasRange = part.high > part.low;
  const weak = lot === undefined ? undefined : weakYeastVerdict(lot.alive);
  return (
    <Figure
      label={isFixed ? `${part.id}: put in` : `Pitch of ${part.id}`}
      value={amount(part.amount, part.unit)}
      range={hasRange ? amountRange(part.low, part.high, part.unit) : undefined}
      size={isFirst ? 'huge' : 'large'}
    >
      {isIdle && <p>Not needed: the lots before it are enough.</p>}
      {part.overdrawn ? (
        <p class="warning">More than the {amount(lot?.standing.left ?? 0, part.unit)} left.</p>
      ) : (
        part.leftAfter !== undefined &&
        !isIdle && <p>{amount(part.leftAfter, part.unit)} left after.</p>
      )}
      {lot?.isStained && weak?.verdict === 'caution' && (
        <p class="warning">
          About {percent(100 * lot.alive)} alive. {weak.reason}.
        </p>
      )}
      {lot?.standing.stain?.validity === 'at or below' && (
        <p class="warning">{lot.standing.stain.note}</p>
      )}
    </Figure>
  );
}

function Sureness({ sum: { plan } }: { sum: WorkedOut }) {
  const { achieved, chanceBelow, narrowing } = plan;
  const [best] = narrowing;
  const low = chanceBelow.find(({ fraction }) => fraction === 0.8);
  return (
    <div class="sureness">
      <p>
        {rate(achieved.rateMillionPerMlPerPlato)}, and with 95 % certainty between{' '}
        {fixed(achieved.low, 2)} and {fixed(achieved.high, 2)}.
        {low !== undefined &&
          ` One chance in ${oneIn(low.chance)} of less than 80 % of the target.`}
      </p>
      {best !== undefined && (
        <p>
          {measurements[best.measurement](best.lotId)} would narrow the range from ±{' '}
          {fixed(best.fromPercent, 0)} to ± {percent(best.toPercent)}.
        </p>
      )}
    </div>
  );
}

const oneIn = (chance: number) =>
  chance < 0.001 ? 'more than a thousand' : fixed(Math.max(1, 1 / chance), chance > 0.15 ? 1 : 0);

const measurements = {
  count: (lot: string) => `Counting 400 more cells of ${lot}`,
  stain: (lot: string) => `Staining 400 more cells of ${lot}`,
  storage: (lot: string) => `Staining ${lot} today`,
  'second chamber': (lot: string) => `Counting ${lot} in a second filling of the chamber`,
} as const;
