import { useState } from 'preact/hooks';
import { useRoute } from 'preact-iso/router';
import type { FermentStanding } from '#shared/views/ferments.ts';
import { fetchFerment, fetchFermentHistory } from '../apiClient.ts';
import { isCountable } from '../components/bench/isCountable.ts';
import { ChillRack } from '../components/ferments/ChillRack.tsx';
import { FermentCauses } from '../components/ferments/FermentCauses.tsx';
import { FermentCourse, type ShownFerment } from '../components/ferments/FermentCourse.tsx';
import { FermentFlag } from '../components/ferments/FermentFlag.tsx';
import { FermentForm } from '../components/ferments/FermentForm.tsx';
import { FermentResults } from '../components/ferments/FermentResults.tsx';
import { FermentYeast } from '../components/ferments/FermentYeast.tsx';
import { plannedWords } from '../components/ferments/plannedField.ts';
import { ReadingForm } from '../components/ferments/ReadingForm.tsx';
import { ReadingTable } from '../components/ferments/ReadingTable.tsx';
import { AllTheSame } from '../components/form/AllTheSame.tsx';
import { AmendBox, AmendButtons, StrikeOut } from '../components/form/Amend.tsx';
import { Loaded, soughtGyle } from '../components/frame/Loaded.tsx';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { SiteOfRecord } from '../components/frame/SiteOfRecord.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { HistoryOf } from '../components/history/HistoryOf.tsx';
import { HoldAttention } from '../components/lots/HoldAttention.tsx';
import { NotSentYet } from '../components/outbox/NotSentYet.tsx';
import { generation, gravity, moment, temperature, volume } from '../format.ts';
import { setup } from '../settings.ts';
import '../styles/sheets.css';
import '../styles/ferments.css';
import '../styles/yeast.css';

export function Ferment() {
  const id = useRoute().params.id ?? '';
  const ferment = useLoad((signal) => fetchFerment(id, signal), [id]);
  const { data } = ferment;
  const saved = (text: string, warnings: readonly string[] = []) => {
    announce(text, { warnings });
    ferment.reload();
  };
  return (
    <Page
      title={data === null ? 'Ferment' : `${data.record.gyle} ${data.record.beer}`}
      back={{ href: '/ferments', label: 'Ferments' }}
    >
      <Loaded of={ferment} sought={soughtGyle}>
        {(standing) => <FermentPage key={standing.id} ferment={standing} saved={saved} />}
      </Loaded>
    </Page>
  );
}

type Saved = (text: string, warnings?: readonly string[]) => void;

function FermentPage({ ferment, saved: tell }: { ferment: ShownFerment; saved: Saved }) {
  const history = useLoad((signal) => fetchFermentHistory(ferment.id, signal), [ferment.id]);
  const saved: Saved = (text, warnings) => {
    tell(text, warnings);
    history.reload();
  };
  const pitchedAt = firstPitch(ferment);
  const isRunning = ferment.state !== 'racked';
  return (
    <>
      <p class="lead">
        {`${ferment.vessel} · ${ferment.strain.name}${ferment.generation === null ? '' : `, ${generation(ferment.generation)}`} · ${ferment.state}`}
      </p>
      <SiteOfRecord site={ferment.siteId} />
      <HoldAttention history={history.data ?? []} traceHref={`/trace?of=${ferment.id}`} />
      <AllTheSame overrides={ferment.overrides ?? []} />
      <p class="flag-line">
        <FermentFlag flag={ferment.flag} /> {ferment.flag.why}
      </p>
      <NotSentYet about={ferment.id} />
      {isRunning && <Actions ferment={ferment} />}
      <FermentCourse ferment={ferment} />
      {ferment.running?.status === 'slow' && <FermentCauses running={ferment.running} />}
      {ferment.result && <FermentResults result={ferment.result} />}
      {isRunning && (
        <section class="not-printed" aria-label="Enter a reading">
          <h2>Enter a reading</h2>
          <ReadingForm
            fermentId={ferment.id}
            onSaved={(warnings) => saved('The reading is written down.', warnings)}
          />
        </section>
      )}
      <h2>Readings</h2>
      <ReadingTable
        readings={ferment.readings}
        pitchedAt={pitchedAt}
        onAmended={() => saved('The reading is put right.')}
      />
      <FermentYeast ferment={ferment} onAmended={() => saved('The pitch is put right.')} />
      <h2 class={ferment.chill === null && ferment.rack === null ? 'not-printed' : undefined}>
        Chilling and racking
      </h2>
      <ChillRack ferment={ferment} onSaved={saved} />
      <Gyle ferment={ferment} saved={saved} />
      <p class="actions">
        <a class="button quiet" href={`/trace?of=${ferment.id}`}>
          Trace its yeast
        </a>
      </p>
      <Loaded of={history}>
        {(entries) => (
          <HistoryOf
            what={`gyle ${ferment.record.gyle}`}
            history={entries}
            onStruck={() => saved('Struck out.')}
          />
        )}
      </Loaded>
    </>
  );
}

function Actions({ ferment }: { ferment: FermentStanding }) {
  const isPitched = ferment.pitches.length > 0;
  return (
    <p class="actions">
      <a class={isPitched ? 'button' : 'button quiet'} href={`/crop?ferment=${ferment.id}`}>
        Crop
      </a>
      <a class={isPitched ? 'button quiet' : 'button'} href={`/pitch?ferment=${ferment.id}`}>
        Pitch
      </a>
      {isCountable(ferment) && (
        <a class="button quiet" href={`/bench?ferment=${ferment.id}`}>
          Count its cells
        </a>
      )}
      {isPitched && (
        <a class="button quiet" href={`/pitch/sheet?ferment=${ferment.id}`}>
          Pitch sheet
        </a>
      )}
    </p>
  );
}

function firstPitch({ pitches }: FermentStanding): string | null {
  const times = pitches.map(({ happenedAt }) => happenedAt).toSorted();
  return times[0] ?? null;
}

function Gyle({ ferment, saved }: { ferment: ShownFerment; saved: Saved }) {
  const [how, setHow] = useState<'correct' | 'strike' | null>(null);
  const { record, planned } = ferment;
  const done = (text: string) => {
    setHow(null);
    saved(text);
  };
  return (
    <>
      <h2>As collected</h2>
      <p>
        {wortOf(ferment)}{' '}
        <AmendButtons
          what="the gyle"
          onCorrect={() => setHow('correct')}
          onStrike={() => setHow('strike')}
        />
      </p>
      {planned && record.plannedBrewId === planned.id && (
        <p>
          It carries out the brew planned for{' '}
          <a href={`/records/${planned.id}`}>{plannedWords(planned)}</a>.
        </p>
      )}
      {record.plannedBrewId === null && <p>It was not a planned brew.</p>}
      {record.note !== undefined && <p>{record.note}</p>}
      {how !== null && setup.value !== null && (
        <AmendBox
          key={how}
          title={how === 'correct' ? 'Correct the gyle' : 'Strike out the gyle'}
          onLeave={() => setHow(null)}
        >
          {how === 'correct' ? (
            <FermentForm
              setup={setup.value}
              record={record}
              planned={planned}
              onSaved={() => done('The gyle is put right.')}
            />
          ) : (
            <StrikeOut entryId={record.entryId} onDone={() => done('The gyle is struck out.')} />
          )}
        </AmendBox>
      )}
    </>
  );
}

function wortOf({ record, strain }: FermentStanding): string {
  const known = (value: number | undefined, say: (value: number) => string) =>
    value === undefined ? [] : [say(value)];
  const facts = [
    `${volume(record.volumeL)} at ${gravity(record.originalGravitySg)} for ${strain.name}`,
    ...known(record.setTempC, (tempC) => `set to ${temperature(tempC)}`),
    ...known(record.oxygenMgPerL, (mg) => `oxygen ${mg} mg/L`),
    ...known(record.zincMgPerL, (mg) => `zinc ${mg} mg/L`),
    ...known(record.fanMgPerL, (mg) => `free amino nitrogen ${mg} mg/L`),
  ];
  return `${moment(record.happenedAt)}, by ${record.by}: ${facts.join(', ')}.`;
}
