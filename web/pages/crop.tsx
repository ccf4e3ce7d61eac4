import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import { type CropTurn, cropTurn } from '#shared/ferments/cropTurn.ts';
import { cropWindow } from '#shared/ferments/cropWindow.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Saved } from '../apiClient.ts';
import { fetchCurrentFerments, fetchFerment, fetchNewestCrop } from '../apiClient.ts';
import { takenBack } from '../components/form/undoing.ts';
import { Caution } from '../components/frame/Caution.tsx';
import { FormNotPrinted } from '../components/frame/FormNotPrinted.tsx';
import { Loaded, soughtGyle } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { SiteOfRecord, SiteTag } from '../components/frame/SiteOfRecord.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { CropForm } from '../components/lots/CropForm.tsx';
import { Cropped } from '../components/lots/Cropped.tsx';
import { duration, generation, gravity, sincePitching } from '../format.ts';
import '../styles/sheets.css';
import '../styles/crop.css';

export function Crop() {
  const { ferment } = useLocation().query;
  return ferment === undefined ? <ChooseFerment /> : <CropFerment key={ferment} id={ferment} />;
}

function ChooseFerment() {
  const ferments = useLoad(fetchCurrentFerments);
  return (
    <Page title="Crop" lead="Which FV are you cropping?">
      <Loaded of={ferments}>
        {(items) => <PitchedFerments items={items.filter(canBeCropped)} />}
      </Loaded>
    </Page>
  );
}

const canBeCropped = ({ state }: FermentStanding) => state === 'fermenting' || state === 'chilled';

function PitchedFerments({ items }: { items: readonly FermentStanding[] }) {
  if (items.length === 0)
    return (
      <p class="empty">
        Nothing is fermenting. <a href="/ferments/new">Collect a gyle</a> and{' '}
        <a href="/pitch">pitch it</a> first.
      </p>
    );
  const turns = items.map((ferment) => ({ ferment, turn: cropTurn(ferment) }));
  const due = turns
    .filter(({ turn }) => turn.turn === 'due')
    .toSorted((a, b) => (b.ferment.hoursSincePitch ?? 0) - (a.ferment.hoursSincePitch ?? 0));
  const later = turns.filter(({ turn: { turn } }) => turn === 'not yet' || turn === 'when chilled');
  const past = turns.filter(({ turn }) => turn.turn === 'past');
  return (
    <>
      <h2>To crop now</h2>
      {due.length === 0 && <p class="empty">No FV is due.</p>}
      <FermentPick turns={due} />
      {later.length > 0 && <h2>Not yet</h2>}
      <FermentPick turns={later} />
      {past.length > 0 && <h2>Cropped, or past it</h2>}
      <FermentPick turns={past} />
    </>
  );
}

type Turn = { ferment: FermentStanding; turn: CropTurn };

function FermentPick({ turns }: { turns: readonly Turn[] }) {
  if (turns.length === 0) return null;
  return (
    <ul class="pick">
      {turns.map(({ ferment, turn }) => (
        <li key={ferment.id}>
          <a href={`/crop?ferment=${ferment.id}`}>
            <span class="pick-name">{ferment.vessel}</span>
            <span>
              <strong>{ferment.record.gyle}</strong> {ferment.record.beer}{' '}
              <SiteTag site={ferment.siteId} />
              <small>{standingOf(ferment)}</small>
              <small class="pick-why">{turnWords(turn, ferment)}</small>
            </span>
          </a>
        </li>
      ))}
    </ul>
  );
}

function turnWords(turn: CropTurn, { strain, crops, state }: FermentStanding): string {
  switch (turn.turn) {
    case 'due':
      return strain.crops === 'top'
        ? `The head to keep should stand now: more than ${cropWindow.fromHours} h in, and down far enough`
        : 'It is chilled: its yeast is down in the cone';
    case 'when chilled':
      return 'Once it is chilled and its yeast is down in the cone';
    case 'past':
      return crops.length > 0 ? '' : `It is ${state}, and no head was taken`;
    default:
      return notYetWords(turn);
  }
}

function notYetWords({
  hoursLeft,
  fromGravitySg,
  isDownEnough,
}: Extract<CropTurn, { turn: 'not yet' }>): string {
  const when = hoursLeft > 0 ? [`in ${duration(hoursLeft)}`] : [];
  const down = isDownEnough ? [] : [`once it reads ${gravity(fromGravitySg)} or lower`];
  const said = [...when, ...down].join(', ');
  return `${said.slice(0, 1).toUpperCase()}${said.slice(1)}`;
}

function standingOf({ hoursSincePitch, latestGravitySg, crops, strain }: FermentStanding): string {
  const facts = [
    strain.name,
    ...(hoursSincePitch === null ? [] : [sincePitching(hoursSincePitch)]),
    ...(latestGravitySg === null ? [] : [`at ${gravity(latestGravitySg)}`]),
    ...crops.map(({ code, cut }) => `${cut} taken as ${code}`),
  ];
  return facts.join(' · ');
}

async function fetchForCrop(id: string, signal: AbortSignal) {
  const [ferment, lastCrop] = await Promise.all([
    fetchFerment(id, signal),
    fetchNewestCrop(signal),
  ]);
  return { ferment, lastCrop };
}

function CropFerment({ id }: { id: string }) {
  const known = useLoad((signal) => fetchForCrop(id, signal), [id]);
  const [last, setSaved] = useState<Saved | null>(null);
  const saved = last !== null && takenBack.value.includes(last.id) ? null : last;
  const again = () => {
    setSaved(null);
    known.reload();
  };
  return (
    <Page title={saved === null ? 'Crop' : 'Cropped'} back={{ href: '/crop', label: 'Another FV' }}>
      <Loaded of={known} sought={soughtGyle}>
        {({ ferment, lastCrop }) =>
          saved === null ? (
            <>
              <FermentInHand ferment={ferment} />
              <GasOverTheHead />
              <FormNotPrinted instead="Once it is cropped there is a label for the bin." />
              <CropForm ferment={ferment} lastCrop={lastCrop} onSaved={setSaved} />
            </>
          ) : (
            <Cropped saved={saved} ferment={ferment} onAgain={again} />
          )
        }
      </Loaded>
    </Page>
  );
}

/** The warning in two lines, so that the amount stands on the first screen of a phone. */
function GasOverTheHead() {
  return (
    <details class="gas">
      <summary>Carbon dioxide lies over the head unseen: check the air, do not lean in.</summary>
      <Caution title="Gas above the head">
        <p>An open FV can hold enough to fell you at once. Do not work alone.</p>
      </Caution>
    </details>
  );
}

function FermentInHand({ ferment }: { ferment: FermentStanding }) {
  const { vessel, record, state } = ferment;
  const next = ferment.generation === null ? undefined : ferment.generation + 1;
  return (
    <>
      <p class="lead">
        {`${vessel} · ${record.gyle} ${record.beer}${next === undefined ? '' : ` · the crop is ${generation(next)}`}`}
      </p>
      <SiteOfRecord site={ferment.siteId} />
      {!canBeCropped(ferment) && (
        <p class="warning">
          {state === 'racked' ? 'This gyle is racked already.' : 'This gyle is not pitched yet.'}
        </p>
      )}
    </>
  );
}
