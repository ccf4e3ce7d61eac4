import type { ComponentChildren } from 'preact';
import type {
  Plan,
  PlanAllotment,
  PlanBrew,
  PlanOption,
  PlanSource,
} from '#shared/plan/planView.ts';
import { amount, moment } from '../../format.ts';
import { StrikeOut } from '../form/Amend.tsx';
import type { EntryDraft } from '../form/entryDraft.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { amountEntry, select, yeast } from '../form/fields.ts';
import { useForm } from '../form/useForm.ts';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';

type Props = { plan: Plan; brew: PlanBrew; onChanged: () => void };

/** Which yeast a brew is to get, chosen by hand; the plan keeps it and works round it. */
export function PlanYeastChoice({ plan, brew, onChanged }: Props) {
  const saved = (close: () => void, text: string) => () => {
    announce(text);
    close();
    onChanged();
  };
  return (
    <>
      {brew.allotments.map((allotment) => (
        <Kept key={allotment.entryId} allotment={allotment}>
          <Opens label="Change it" title={`Other yeast for ${brew.beer}`}>
            {(close) => (
              <YeastForm
                {...{ plan, brew, allotment }}
                onSaved={saved(close, 'The plan is changed.')}
              />
            )}
          </Opens>
          <Opens label="Let it go" title={`Leave the yeast of ${brew.beer} to the plan`}>
            {(close) => (
              <StrikeOut
                entryId={allotment.entryId}
                onDone={saved(close, 'The plan chooses again.')}
              />
            )}
          </Opens>
        </Kept>
      ))}
      {brew.allotments.length === 0 && (
        <Opens label="Choose its yeast" title={`Yeast for ${brew.beer}`}>
          {(close) => (
            <YeastForm {...{ plan, brew }} onSaved={saved(close, 'The plan keeps your choice.')} />
          )}
        </Opens>
      )}
    </>
  );
}

function Kept({ allotment, children }: { allotment: PlanAllotment; children: ComponentChildren }) {
  const { label, holds, why } = allotment;
  const set =
    allotment.amount === null ? '' : `${amount(allotment.amount.value, allotment.amount.unit)} of `;
  return (
    <>
      {!holds && (
        <p class="warning">
          You chose {set}
          {label}: it cannot hold. {why}
        </p>
      )}
      <p class="actions">{children}</p>
    </>
  );
}

type FormProps = {
  plan: Plan;
  brew: PlanBrew;
  allotment?: PlanAllotment;
  onSaved: () => void;
};

function YeastForm({ plan, brew, allotment, onSaved }: FormProps) {
  const sourceOf = (id: string | undefined) => plan.sources.find((source) => source.id === id);
  const usableFirst = brew.options.toSorted(
    (a, b) => Number(a.blocked !== null) - Number(b.blocked !== null),
  );
  const options = usableFirst.flatMap((option) => {
    const source = sourceOf(option.sourceId);
    return source === undefined || source.kind === 'fresh culture'
      ? []
      : [{ value: option.sourceId, label: optionWords(option, source) }];
  });
  const form = useForm({
    key: `allot.${allotment?.entryId ?? brew.id}`,
    fields: {
      source: select({ label: 'Yeast', options }),
      amountL: yeast({ label: 'How much of it', measuredIn: 'L', optional: true, hint: asNeeded }),
      amountKg: yeast({
        label: 'How much of it',
        measuredIn: 'kg',
        optional: true,
        hint: asNeeded,
      }),
    },
    start: { source: allotment?.sourceId ?? undefined },
    entry: ({ source, amountL, amountKg }): EntryDraft => {
      const unit = sourceOf(source)?.left?.unit;
      return {
        kind: 'allotment',
        plannedBrewId: brew.id,
        ...sourceEntry(sourceOf(source)),
        ...amountEntry(unit, unit === 'kg' ? amountKg : amountL),
      };
    },
    fieldAt: (path) => (path.startsWith('from') ? 'source' : undefined),
    corrects: allotment,
    onSaved,
  });
  const unit = sourceOf(form.values.source)?.left?.unit;
  return (
    <Form form={form} save="Keep this yeast for it" when={false}>
      <Field form={form} name="source" />
      {unit !== undefined && <Field form={form} name={unit === 'L' ? 'amountL' : 'amountKg'} />}
    </Form>
  );
}

const asNeeded = 'As much as the brew needs, when it is left out.';

function sourceEntry(source: PlanSource | undefined) {
  switch (source?.kind) {
    case 'running crop':
      return { fromFermentId: source.recordId };
    case 'planned crop':
      return { fromBrewId: source.recordId };
    default:
      return { fromLotId: source?.recordId };
  }
}

function optionWords({ label, blocked }: PlanOption, { kind, readyAt, left }: PlanSource): string {
  const what =
    kind === 'lot' && left !== null
      ? `, ${amount(left.amount, left.unit)} left`
      : `, ${moment(readyAt)}`;
  return `${label}${what}${blocked === null ? '' : ` (${blocked})`}`;
}
