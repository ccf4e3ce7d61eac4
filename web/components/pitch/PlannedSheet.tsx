import type { KnownLot } from '#shared/lots/knownLot.ts';
import type { PitchPlan } from '#shared/science/pitch.ts';
import { weakYeastVerdict } from '#shared/science/weakYeast.ts';
import { amount, amountRange, fixed, generation, moment, percent, rate } from '../../format.ts';
import { person } from '../../settings.ts';
import { PitchSheet, type SheetLot } from './PitchSheet.tsx';
import type { WorkedOut } from './pitchSum.ts';
import { type Wort, wortInWords } from './pitchWort.ts';

type Props = { wort: Wort; sum: WorkedOut; objections: readonly string[]; onLeave: () => void };

/** The sheet of a pitch worked out and not yet made. */
export function PlannedSheet({ wort, sum, objections, onLeave }: Props) {
  const { ferment } = wort;
  const used = sum.plan.lots.flatMap((part, index) => {
    const known = sum.lots[index];
    return known === undefined || part.amount === 0 ? [] : [{ part, known }];
  });
  return (
    <>
      <p class="actions">
        <button type="button" class="button quiet" onClick={onLeave}>
          Back to the sum
        </button>
      </p>
      <PitchSheet
        vessel={ferment === undefined ? 'Wort to come' : ferment.vessel}
        siteId={wort.siteId ?? used[0]?.known.standing.siteId}
        wort={[
          ...(ferment === undefined ? [] : [`Gyle ${ferment.record.gyle} ${ferment.record.beer}`]),
          wortInWords(wort),
        ].join(' · ')}
        lots={used.map(({ part, known }) => sheetLot(part, known))}
        rate={rateWords(sum)}
        cautions={[
          ...objections.map((said) => `${said}.`),
          ...used.flatMap(({ known }) => lotCautions(known)),
          ...shortageWords(sum),
        ]}
        who={`Worked out ${moment(new Date().toISOString())}${person.value === '' ? '' : `, ${person.value}`}.`}
      >
        <p class="sheet-sign">Put in by …………………………</p>
        <p class="sheet-sign">At ……………… really …………………………</p>
      </PitchSheet>
    </>
  );
}

function sheetLot(part: PitchPlan['lots'][number], { standing }: KnownLot): SheetLot {
  const isLeast = part.high === Infinity;
  const { container, place } = standing.record;
  const where = [container, place].filter((each) => each !== undefined).join(', ');
  return {
    code: part.id,
    amount: `${isLeast ? 'at least ' : ''}${amount(part.amount, part.unit)}`,
    range:
      part.high > part.low && !isLeast
        ? `${amountRange(part.low, part.high, part.unit)} (95 %)`
        : undefined,
    facts: [standing.strain.name, generation(standing.generation), where]
      .filter((each) => each !== '')
      .join(' · '),
  };
}

function rateWords({ plan: { achieved } }: WorkedOut): string {
  const { rateMillionPerMlPerPlato, low, high, atMost } = achieved;
  return atMost
    ? `${rate(rateMillionPerMlPerPlato)} at the most`
    : `${rate(rateMillionPerMlPerPlato)} (${fixed(low, 2)} to ${fixed(high, 2)})`;
}

function lotCautions({ standing, alive, density, isStained }: KnownLot): string[] {
  const { code, verdict, stain } = standing;
  const weak = weakYeastVerdict(alive);
  return [
    ...(verdict.verdict === 'fit'
      ? []
      : [`${code}: ${verdict.verdict}. ${verdict.reasons[0]?.text ?? ''}.`]),
    ...(weak.verdict === 'normal' || !isStained
      ? []
      : [`${code} is about ${percent(100 * alive)} alive. ${weak.reason}.`]),
    ...(stain?.validity === 'at or below'
      ? [`${code}: only the most that can be alive is known, so the amount is the least.`]
      : []),
    ...(density.counted ? [] : [`${code} was not counted: the amount is a guess.`]),
    ...(isStained ? [] : [`${code} was not stained: nobody knows how much of it is alive.`]),
  ];
}

const shortageWords = ({ plan: { shortage } }: WorkedOut): string[] =>
  shortage === undefined || shortage.fraction < 0.02
    ? []
    : [`Not enough yeast: ${percent(100 * shortage.fraction)} of the cells are lacking.`];
