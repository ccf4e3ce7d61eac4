import { useRef, useState } from 'preact/hooks';
import type { EntryOf } from '#shared/entries/entry.ts';
import { chamberRuling } from '#shared/science/chambers.ts';
import type { Tally } from '#shared/tally.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import { setup } from '../../settings.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { SquaresField } from '../form/SquaresField.tsx';
import { useForm } from '../form/useForm.ts';
import { CountingRules } from './CountingRules.tsx';
import { CountResult } from './CountResult.tsx';
import { countFields } from './countFields.ts';
import { countFigures } from './countFigures.ts';
import {
  cellCountOf,
  countEntry,
  fillingsOf,
  fvCountEntry,
  type Side,
  sides,
  startFromCount,
  startFromLastCount,
} from './countValues.ts';
import { TallyPanel } from './TallyPanel.tsx';
import { keepOpenTally, keepSequence, openTally } from './tallyMemory.ts';

export type LotInHand = { id: string; code: string; unit: 'L' | 'kg' };
/** The FV whose wort is counted after pitching, in place of a lot. */
export const fvInHand = (fermentId: string, name: string): LotInHand => ({
  id: fermentId,
  code: name,
  unit: 'L',
});
type Corrected = { entryId: string; happenedAt: string; count: EntryOf<'count'> };

type CountFormProps = {
  lot: LotInHand;
  last: Recorded<'count'> | undefined;
  corrects?: Corrected;
  /** Counts the wort of a ferment: what is saved is a reading of it. */
  ofFerment?: boolean;
  /** Live and dead of a stained sample, tallied along with its squares. */
  onTallied?: (side: string, tally: Tally) => void;
  onSaved: (warnings: readonly string[]) => void;
};

/** Cells in the squares of a chamber, and what they amount to while they are entered. */
export function CountForm(props: CountFormProps) {
  const { lot, last, corrects, ofFerment = false, onTallied, onSaved } = props;
  const brewery = setup.value?.brewery ?? null;
  const key = `count.${corrects?.entryId ?? lot.id}`;
  const used = useRef<readonly Side[]>([]);
  const form = useForm({
    key,
    fields: countFields(),
    start:
      corrects === undefined ? startFromLastCount(last, lot.unit) : startFromCount(corrects.count),
    entry: (values) => {
      used.current = fillingsOf(values).map(({ side }) => side);
      return ofFerment ? fvCountEntry(lot.id, values) : countEntry(lot.id, values);
    },
    fieldAt: (path) => fieldOfFilling(path.replace(/^count\./, ''), used.current),
    onSaved: (saved) => onSaved(saved.flatMap(({ warnings }) => warnings)),
    corrects,
  });
  const tallyName = (side: Side) => `${key}.${side.squares}`;
  const [tallying, setTallying] = useState(() =>
    sides.find((side) => openTally() === tallyName(side)),
  );
  const tally = (side: Side | undefined) => {
    keepOpenTally(side === undefined ? null : tallyName(side));
    setTallying(side);
  };
  const count = cellCountOf(form.values, brewery);
  const basis = form.values.basis ?? 'mL';
  const budRule = brewery?.budRule ?? 'half the mother or larger';
  return (
    <>
      <Form
        writes="count"
        form={form}
        save={corrects === undefined ? 'Save the count' : 'Save the correction'}
      >
        <CountingRules />
        <div class="beside">
          <CountInputs form={form} asksBasis={!ofFerment} tallyName={tallyName} onTally={tally} />
          <div class="result">
            <CountResult count={count} basis={basis} />
          </div>
        </div>
        <Field form={form} name="note" />
      </Form>
      {tallying && (
        <TallyPanel
          count={tallyName(tallying)}
          title={`${lot.code}: dilution ${tallying.dilution}, ${tallying.name}`}
          budRule={budRule}
          figuresOf={(now) =>
            countFigures(
              now,
              cellCountOf({ ...form.values, [tallying.squares]: finishedSquares(now) }, brewery),
              basis,
            )
          }
          onLeave={() => tally(undefined)}
          onUse={(now) => {
            form.set(tallying.squares, now.squares.join(','));
            keepSequence(tallyName(tallying), '');
            onTallied?.(tallying.squares, now);
            tally(undefined);
          }}
        />
      )}
    </>
  );
}

/** Squares counted to their end; half a square would pull the figure down. */
function finishedSquares({ squares, square }: Tally): number[] | undefined {
  const finished = squares.slice(0, square - 1);
  return finished.length === 0 ? undefined : finished;
}

function fieldOfFilling(path: string, used: readonly Side[]): string | undefined {
  if (path === 'fillings') return 'squares1A';
  const [, nth, part] = /^fillings\.(\d+)\.(squares|dilutionFactor)/.exec(path) ?? [];
  const side = nth === undefined ? undefined : used[Number(nth)];
  if (side === undefined) return undefined;
  return part === 'squares' ? side.squares : side.factor;
}

type CountInputsProps = {
  form: ReturnType<typeof useForm<ReturnType<typeof countFields>>>;
  asksBasis: boolean;
  tallyName: (side: Side) => string;
  onTally: (side: Side) => void;
};

function CountInputs({ form, asksBasis, tallyName, onTally }: CountInputsProps) {
  const filled = sides.filter(({ squares }) => (form.typed[squares] ?? '') !== '');
  const [asked, setAsked] = useState(1);
  const dilutions = Math.max(asked, ...filled.map(({ dilution }) => dilution));
  const ruling = chamberRuling(form.values.chamber ?? 'own');
  return (
    <div>
      {asksBasis && <Field form={form} name="basis" />}
      <Field form={form} name="chamber" />
      {ruling.id === 'own' && <Field form={form} name="squareAreaMm2" />}
      <p class="field-hint">{ruling.usualChoice}.</p>
      <div class="pair">
        <Field form={form} name="factor1" />
        <Field form={form} name="pipettingSteps" />
      </div>
      <details class="more">
        <summary>Depth and diluent</summary>
        <div class="pair">
          <Field form={form} name="depthMm" />
          <Field form={form} name="diluent" />
        </div>
      </details>
      {sides
        .filter(({ dilution }) => dilution <= dilutions)
        .map((side) => (
          <div key={side.squares}>
            {side.dilution > 1 && side.name === 'Side A' && (
              <Field form={form} name={side.factor} />
            )}
            <SquaresField
              form={form}
              name={side.squares}
              legend={dilutions === 1 ? side.name : `Dilution ${side.dilution}, ${side.name}`}
              usual={ruling.usualSquares}
              tally={tallyName(side)}
              onTally={() => onTally(side)}
            />
          </div>
        ))}
      {dilutions < 3 && (
        <p>
          <button type="button" class="button quiet" onClick={() => setAsked(dilutions + 1)}>
            Add another dilution
          </button>
        </p>
      )}
    </div>
  );
}
