import type { KnownLot } from '#shared/lots/knownLot.ts';
import type { PitchPlan } from '#shared/science/pitch.ts';
import { weakYeastVerdict } from '#shared/science/weakYeast.ts';
import { amount, amountRange, fixed, percent, rate } from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { Tag } from '../frame/Status.tsx';
import { PitchEvidence, PitchSteps } from './PitchWhy.tsx';
import { perWortWords } from './perWort.ts';
import type { PitchSum, WorkedOut } from './pitchSum.ts';

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
        <LotAmount
          key={part.id}
          part={part}
          lot={lots[index]}
          isFirst={index === 0}
          volumeL={sum.volumeL}
        />
      ))}
      {plan.shortage !== undefined && plan.shortage.fraction >= TOLD_SHORTAGE && (
        <p class="warning">
          Not enough yeast: {percent(100 * plan.shortage.fraction)} of the cells are lacking. Add
          another lot, or accept a lower rate.
        </p>
      )}
      <Sureness sum={sum} />
      <BeerHeld sum={sum} />
      <PitchEvidence lots={lots} />
      <PitchSteps steps={plan.steps} />
    </>
  );
}

function LotAmount({
  part,
  lot,
  isFirst,
  volumeL,
}: {
  part: Part;
  lot: KnownLot | undefined;
  isFirst: boolean;
  volumeL: number;
}) {
  const isFixed = lot?.pitchLot.use !== undefined;
  const isIdle = !isFixed && part.amount === 0;
  const isLeast = part.high === Infinity;
  const hasRange = part.high > part.low && !isLeast;
  const weak = lot === undefined ? undefined : weakYeastVerdict(lot.alive);
  return (
    <Figure
      label={isFixed ? `${part.id}: put in` : `Pitch of ${part.id}`}
      value={`${isLeast ? 'at least ' : ''}${amount(part.amount, part.unit)}`}
      range={hasRange ? amountRange(part.low, part.high, part.unit) : undefined}
      size={isFirst ? 'huge' : 'large'}
    >
      {isIdle && <p>Not needed: the lots before it are enough.</p>}
      {part.overdrawn ? (
        <p class="warning">More than the {amount(lot?.standing.left ?? 0, part.unit)} left.</p>
      ) : (
        part.leftAfter !== undefined && !isIdle && <p>{leftWords(part.leftAfter, part.unit)}</p>
      )}
      {part.unit === 'kg' && part.amount > 0 && <p>{perWortWords(part.amount, volumeL)}</p>}
      {lot?.isStained && weak?.verdict === 'caution' && (
        <p class="warning">
          About {percent(100 * lot.alive)} alive. {weak.reason}.
        </p>
      )}
      {lot?.standing.stain?.validity === 'at or below' && (
        <p class="warning">
          At most {percent(100 * lot.alive)} alive, and maybe far less: the amount is the least it
          can be, with no upper end. Better another lot, or a slide culture first.{' '}
          {lot.standing.stain.note}
        </p>
      )}
    </Figure>
  );
}

/** Less than this is a film on the bin, not yeast [L or kg]. */
const NOTHING_LEFT = 0.05;

const leftWords = (left: number, unit: 'L' | 'kg') =>
  left < NOTHING_LEFT ? 'It takes all there is.' : `Leaves ${amount(left, unit)} of it.`;

function Sureness({ sum: { plan } }: { sum: WorkedOut }) {
  const { achieved, chanceBelow, narrowing } = plan;
  const [best] = narrowing;
  return (
    <div class="sureness">
      <p>{rateWords(achieved)}</p>
      <p>
        Chance of under-pitching:{' '}
        {chanceBelow
          .toReversed()
          .map(({ fraction, chance }) => chanceWords(fraction, chance, achieved.atMost))
          .join('; ')}
        .
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

function rateWords({ rateMillionPerMlPerPlato, low, high, atMost }: WorkedOut['plan']['achieved']) {
  return atMost
    ? `${rate(rateMillionPerMlPerPlato)} or less; ${fixed(high, 2)} at the very most.`
    : `${rate(rateMillionPerMlPerPlato)}, and with 95 % certainty between ${fixed(low, 2)} and ${fixed(high, 2)}.`;
}

function chanceWords(fraction: number, chance: number, isLeast: boolean): string {
  const below = `below ${percent(100 * fraction)} of the target`;
  if (chance < 0.001) return `${isLeast ? 'cannot be told' : 'under 1 in 1000'} ${below}`;
  return `${isLeast ? 'at least ' : ''}${percent(100 * chance, chance < 0.1 ? 1 : 0)} ${below}`;
}

/** Said only where it could be seen in the FV. */
function BeerHeld({ sum: { beer } }: { sum: WorkedOut }) {
  if (beer?.matters !== true) return null;
  const { beerL, fallDegrees, abvPercent } = beer;
  return (
    <p class="warning">
      The yeast brings about {amount(beerL, 'L')} of beer along: the gravity starts{' '}
      {fixed(fallDegrees, 1)} degrees lower, with {percent(abvPercent, 2)} of alcohol. Allow for it
      in the OG you declare. (Beer taken as 60 % of the yeast, mixed by volume.)
    </p>
  );
}

const measurements = {
  count: (lot: string) => `Counting 400 more cells of ${lot}`,
  stain: (lot: string) => `Staining 400 more cells of ${lot}`,
  storage: (lot: string) => `Staining ${lot} today`,
  'second chamber': (lot: string) => `Counting ${lot} in a second filling of the chamber`,
} as const;
