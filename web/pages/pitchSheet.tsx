import { useRoute } from 'preact-iso/router';
import { overrideWords } from '#shared/lots/overrides.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import { fetchCurrentFerments, fetchFerment } from '../apiClient.ts';
import type { ShownFerment } from '../components/ferments/FermentCourse.tsx';
import { Loaded, soughtGyle } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { SiteTag } from '../components/frame/SiteOfRecord.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { PitchSheet, type SheetLot } from '../components/pitch/PitchSheet.tsx';
import {
  cells,
  enteredAmount,
  fixed,
  generation,
  gravity,
  moment,
  scientific,
  volume,
} from '../format.ts';
import '../styles/sheets.css';
import '../styles/pitch.css';

/** What went into an FV, as it was recorded. */
export function RecordedSheet() {
  const { ferment } = useRoute().query;
  return ferment === undefined ? <ChooseSheet /> : <SheetOf key={ferment} id={ferment} />;
}

function ChooseSheet() {
  const ferments = useLoad(fetchCurrentFerments);
  return (
    <Page
      title="Pitch sheet"
      lead="Of which gyle? The sheet says what went into its FV, to be printed or signed."
      back={{ href: '/ferments', label: 'Ferments' }}
    >
      <Loaded of={ferments}>
        {(items) => <PitchedGyles items={items.filter(({ pitches }) => pitches.length > 0)} />}
      </Loaded>
    </Page>
  );
}

function PitchedGyles({ items }: { items: readonly FermentStanding[] }) {
  if (items.length === 0)
    return (
      <p class="empty">
        No gyle is pitched. <a href="/pitch">Work out a pitch</a> first.
      </p>
    );
  return (
    <ul class="pick">
      {items.map(({ id, siteId, vessel, record, pitches }) => (
        <li key={id}>
          <a href={`/pitch/sheet?ferment=${id}`}>
            <span class="pick-name">{vessel}</span>
            <span>
              <strong>{record.gyle}</strong> {record.beer} <SiteTag site={siteId} />
              <small>
                {pitches.map((pitch) => `${enteredAmount(pitch)} of ${pitch.lotCode}`).join(' · ')}
              </small>
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
}

function SheetOf({ id: ferment }: { id: string }) {
  const load = useLoad((signal) => fetchFerment(ferment, signal), [ferment]);
  return (
    <Page title="Pitch sheet" back={{ href: `/ferments/${ferment}`, label: 'The ferment' }}>
      <Loaded of={load} sought={soughtGyle}>
        {(standing) => <Sheet ferment={standing} />}
      </Loaded>
    </Page>
  );
}

type Pitch = FermentStanding['pitches'][number];

function Sheet({ ferment }: { ferment: ShownFerment }) {
  const { vessel, siteId, record, strain, pitches, overrides = [] } = ferment;
  if (pitches.length === 0)
    return (
      <p class="empty">
        Nothing is pitched yet. <a href={`/pitch?ferment=${ferment.id}`}>Work out the pitch</a>.
      </p>
    );
  const hands = [...new Set(pitches.map(({ by }) => by))].join(', ');
  return (
    <PitchSheet
      vessel={vessel}
      siteId={siteId}
      wort={`Gyle ${record.gyle} ${record.beer} · ${volume(record.volumeL)} · OG ${gravity(record.originalGravitySg)} · ${strain.name}`}
      lots={pitches.map(sheetLot)}
      rate={undefined}
      cautions={[
        ...overrides.map((each) => `${each.lotCode} was ${overrideWords[each.what]}: ${each.why}`),
        ...pitches.flatMap(pitchCautions),
      ]}
      who={`Pitched by ${hands}.`}
    />
  );
}

function sheetLot(pitch: Pitch): SheetLot {
  return {
    code: pitch.lotCode,
    amount: enteredAmount(pitch),
    range: expectedWords(pitch),
    facts: `${generation(pitch.generation)} · ${moment(pitch.happenedAt)}, by ${pitch.by}`,
  };
}

function expectedWords(pitch: Pitch): string | undefined {
  const { expectedViableCells, expectedLowCells: low, expectedHighCells: high } = pitch;
  if (expectedViableCells === undefined)
    return high === undefined ? undefined : `at most ${cells(high)} alive`;
  const range =
    low === undefined || high === undefined ? '' : `, ${scientific(low)} to ${scientific(high)}`;
  return `${cells(expectedViableCells)} alive${range}`;
}

function pitchCautions({ lotCode, slurryCorrection, note }: Pitch): string[] {
  return [
    ...(slurryCorrection === undefined
      ? []
      : [
          `Cells of ${lotCode} were taken ${fixed(slurryCorrection, 2)} times, by counts in the FV.`,
        ]),
    ...(note === undefined ? [] : [`${lotCode}: ${note}`]),
  ];
}
