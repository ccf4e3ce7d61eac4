import { CHAMBER_CV, PIPETTING_CV } from '#shared/science/countSetup.ts';
import type { Recorded, StrainView } from '#shared/views.ts';
import * as words from '#shared/words.ts';
import { refreshSetup } from '../settings.ts';
import { Field } from './Field.tsx';
import { Form } from './Form.tsx';
import {
  amountEntry,
  amountIn,
  choice,
  day,
  decimal,
  gravityField,
  note,
  plainOptions,
  select,
  temperature,
  text,
  volume,
  whole,
  yeastEitherWay,
} from './fields.ts';
import { announce } from './Notice.tsx';
import { startFrom } from './startFrom.ts';
import { useForm } from './useForm.ts';

const asOptions = <const T extends string>(values: readonly T[]) =>
  values.map((value) => ({ value, label: value }));

const saved = (what: string, onDone?: () => void) => () => {
  announce(what);
  void refreshSetup();
  onDone?.();
};

const breweryFields = {
  name: text({ label: 'Name of the brewery' }),
  timeZone: text({ label: 'Time zone', hint: 'Such as Europe/London.' }),
  firstGeneration: choice({
    label: 'A fresh culture counts as',
    options: [
      { value: '0', label: 'Generation 0' },
      { value: '1', label: 'Generation 1' },
    ],
  }),
  volumeUnit: choice({ label: 'Volumes in', options: asOptions(words.volumeUnits) }),
  massUnit: choice({ label: 'Weights in', options: asOptions(words.massUnits) }),
  gravityUnit: choice({ label: 'Gravities in', options: asOptions(words.gravityUnits) }),
  temperatureUnit: choice({ label: 'Temperatures in', options: asOptions(words.temperatureUnits) }),
  budRule: choice({
    label: 'Buds counted as cells of their own',
    hint: 'Any rule will do, always the same one.',
    options: plainOptions(words.budRules),
  }),
  edgeRule: choice({ label: 'Cells on the lines', options: plainOptions(words.edgeRules) }),
};

export function BreweryForm({ brewery }: { brewery: Recorded<'brewery'> | null }) {
  const shown =
    brewery === null
      ? {
          timeZone: new Intl.DateTimeFormat().resolvedOptions().timeZone,
          firstGeneration: '0',
          volumeUnit: 'L',
          massUnit: 'kg',
          gravityUnit: 'SG',
          temperatureUnit: '°C',
          budRule: words.budRules[0],
          edgeRule: words.edgeRules[0],
        }
      : {
          ...startFrom(breweryFields, { ...brewery, firstGeneration: undefined }),
          firstGeneration: String(brewery.firstGeneration),
        };
  const form = useForm({
    key: `brewery.${brewery?.entryId ?? 'new'}`,
    fields: breweryFields,
    start: shown,
    entry: ({ firstGeneration, ...facts }) => ({
      kind: 'brewery',
      ...facts,
      firstGeneration: firstGeneration === '1' ? 1 : 0,
      chamberCvPercent: brewery?.chamberCvPercent ?? CHAMBER_CV * 100,
      pipettingCvPercent: brewery?.pipettingCvPercent ?? PIPETTING_CV * 100,
    }),
    onSaved: saved('The brewery is set up'),
    corrects: brewery ?? undefined,
  });
  return (
    <Form form={form} save="Save the brewery" when={false}>
      {Object.keys(breweryFields).map((name) => (
        <Field key={name} form={form} name={name} />
      ))}
    </Form>
  );
}

const strainFields = {
  name: text({ label: 'Name of the strain' }),
  code: text({
    label: 'Short code',
    hint: 'One to four letters; every lot’s code begins with it.',
    capitals: true,
  }),
  crops: choice({ label: 'Cropped from the', options: plainOptions(words.cropKinds) }),
  rateMillionPerMlPerPlato: decimal({
    label: 'Pitching rate',
    unit: 'M/mL/°P',
    unitWords: 'million living cells per mL per °P',
    hint: 'Ales often 0.75, from 0.5 to 1 (general literature, second hand).',
  }),
  tempLowC: temperature({ label: 'Ferments from' }),
  tempHighC: temperature({ label: 'Ferments up to' }),
  maxGenerations: whole({
    label: 'Most generations',
    hint: 'House policy: no number is a scientific limit; ten or fewer is common advice.',
  }),
  maxStorageDays: decimal({
    label: 'Most days in store',
    unit: 'days',
    hint: 'Published advice runs from 4 days to 7.',
  }),
  storeLowC: temperature({ label: 'Store from', hint: 'It must not freeze.' }),
  storeHighC: temperature({ label: 'Store up to', hint: 'Published advice: 1 to 4 °C.' }),
  minViabilityPercent: decimal({
    label: 'Least viability',
    unit: '%',
    hint: 'Usually above 90 %, aimed at 95 % (supplier guidance).',
  }),
  staleCountHours: decimal({
    label: 'A count or stain is old after',
    unit: 'h',
    unitWords: 'hours',
  }),
  leadTimeDays: decimal({
    label: 'Fresh culture takes',
    unit: 'days',
    hint: 'About 14 from a slope, a few when bought.',
  }),
  note: note(),
};

const strainStart = {
  crops: 'top',
  rateMillionPerMlPerPlato: '0.75',
  tempLowC: '15',
  tempHighC: '22',
  maxGenerations: '10',
  maxStorageDays: '4',
  storeLowC: '1',
  storeHighC: '4',
  minViabilityPercent: '90',
  staleCountHours: '24',
  leadTimeDays: '14',
};

export function StrainForm({ strain, onDone }: { strain?: StrainView; onDone?: () => void }) {
  const form = useForm({
    key: `strain.${strain?.entryId ?? 'new'}`,
    fields: strainFields,
    start: strain === undefined ? strainStart : startFrom(strainFields, strain),
    entry: (facts) => ({ kind: 'strain', ...facts }),
    onSaved: saved('The strain is kept', onDone),
    corrects: strain,
  });
  return (
    <Form form={form} save="Save the strain" when={false}>
      {Object.keys(strainFields).map((name) => (
        <Field key={name} form={form} name={name} />
      ))}
    </Form>
  );
}

const vesselFields = {
  name: text({ label: 'Name of the FV', hint: 'As it is called in the cellar: FV1.' }),
  capacityL: volume({ label: 'It holds', optional: true }),
};

export function VesselForm() {
  const form = useForm({
    key: 'vessel.new',
    fields: vesselFields,
    entry: (facts) => ({ kind: 'vessel', ...facts }),
    onSaved: saved('The FV is kept'),
  });
  return (
    <Form form={form} save="Save the FV" when={false}>
      <Field form={form} name="name" />
      <Field form={form} name="capacityL" />
    </Form>
  );
}

const strainChoice = (strains: readonly StrainView[]) =>
  select({
    label: 'Strain',
    options: strains.map((strain) => ({ value: strain.id, label: strain.name })),
  });

export function FreshCultureForm({
  strains,
  onDone,
}: {
  strains: readonly StrainView[];
  onDone?: () => void;
}) {
  const form = useForm({
    key: 'fresh.new',
    fields: {
      strainId: strainChoice(strains),
      origin: choice({ label: 'Where from', options: plainOptions(words.freshOrigins) }),
      amountIn: amountIn(),
      amount: yeastEitherWay({ label: 'Amount' }),
      supplier: text({ label: 'Supplier or slope', optional: true }),
      place: text({ label: 'Place', optional: true }),
      note: note(),
    },
    start: { strainId: strains[0]?.id, origin: 'bought', amountIn: 'L' },
    entry: ({ amount, amountIn: unit, ...facts }) => ({
      kind: 'freshCulture',
      generation: 0,
      ...facts,
      ...amountEntry(unit, amount),
    }),
    onSaved: ([lot]) => {
      announce(`Fresh culture ${lot?.code ?? ''} is in store`, {
        link: { href: `/yeast/${lot?.recordId ?? ''}`, label: 'Open it' },
      });
      void refreshSetup();
      onDone?.();
    },
  });
  return (
    <Form form={form} save="Save the fresh culture">
      {['strainId', 'origin', 'amountIn', 'amount', 'supplier', 'place', 'note'].map((name) => (
        <Field key={name} form={form} name={name} />
      ))}
    </Form>
  );
}

export function PlannedBrewForm({ strains }: { strains: readonly StrainView[] }) {
  const form = useForm({
    key: 'planned.new',
    fields: {
      onDay: day({ label: 'Brew day' }),
      beer: text({ label: 'Beer' }),
      volumeL: volume({ label: 'Volume' }),
      originalGravitySg: gravityField({ label: 'Original gravity' }),
      strainId: strainChoice(strains),
      note: note(),
    },
    start: { strainId: strains[0]?.id },
    entry: (facts) => ({ kind: 'plannedBrew', ...facts }),
    onSaved: saved('The brew is planned'),
  });
  return (
    <Form form={form} save="Save the planned brew" when={false}>
      {['onDay', 'beer', 'volumeL', 'originalGravitySg', 'strainId', 'note'].map((name) => (
        <Field key={name} form={form} name={name} />
      ))}
    </Form>
  );
}
