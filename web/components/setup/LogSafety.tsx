import { useState } from 'preact/hooks';
import { backUpNow, fetchUpkeep, type UpkeepReport } from '../../apiClient.ts';
import { signedIn } from '../../signedIn.ts';
import { safetyFacts, warningWords } from '../../upkeepWords.ts';
import { Loaded } from '../frame/Loaded.tsx';
import { announce } from '../frame/Notice.tsx';
import { Tag } from '../frame/Status.tsx';
import { useLoad } from '../frame/useLoad.ts';
import { Why } from '../frame/Why.tsx';
import { SetupPart } from './SetupPart.tsx';
import '../../styles/safety.css';

/** Where the copies of the log are, how far they can be trusted, and what to do when they cannot. */
export function LogSafety() {
  const load = useLoad(fetchUpkeep);
  return (
    <SetupPart
      id="safe"
      title="Keeping the log safe"
      gist={load.data === null ? '' : <Gist report={load.data} />}
      isReady={load.data !== null}
    >
      <Loaded of={load}>
        {(report) => (
          <>
            <ToDo report={report} />
            <dl class="safety">
              {safetyFacts(report).map(({ what, tone, word, says }) => (
                <div key={what}>
                  <dt>{what}</dt>
                  <dd>
                    <Tag tone={tone}>{word}</Tag>
                    <p>{says}</p>
                    {what === 'Chain of seals' && <Head report={report} />}
                  </dd>
                </div>
              ))}
            </dl>
            {report.isKeptHere && <BackUpNow onMade={load.reload} />}
            <Advice isOnServer={report.isOnServer} />
          </>
        )}
      </Loaded>
    </SetupPart>
  );
}

function Gist({ report }: { report: UpkeepReport }) {
  const tones = safetyFacts(report).map(({ tone }) => tone);
  if (tones.includes('stop')) return <Tag tone="stop">something is wrong</Tag>;
  if (tones.includes('watch')) return <Tag tone="watch">something to look at</Tag>;
  return <Tag tone="good">as it should be</Tag>;
}

function ToDo({ report: { warnings } }: { report: UpkeepReport }) {
  if (warnings.length === 0) return null;
  // A broken chain is why it can only be read.
  const told = warnings.filter((each) => each !== 'readonly' || !warnings.includes('chain'));
  return (
    <ul class="safety-todo">
      {told.map((warning) => (
        <li key={warning}>
          <strong>{warningWords[warning].says}</strong> {warningWords[warning].todo}
        </li>
      ))}
    </ul>
  );
}

function Head({ report: { check, log } }: { report: UpkeepReport }) {
  if (check.firstBad !== null)
    return (
      <p>
        <a href={`/records/${check.firstBad.recordId}`}>See what entry {check.firstBad.seq} says</a>
      </p>
    );
  return (
    <Why title="The newest seal">
      <p class="safety-seal">{log.head}</p>
      <p>
        It covers every entry up to number {log.entries}: each seal is the SHA-256 of the entry and
        of the seal before. Write it down, or print this page, now and then: a log that was
        rewritten later does not bear it.
      </p>
    </Why>
  );
}

function BackUpNow({ onMade }: { onMade: () => void }) {
  const [isMaking, setMaking] = useState(false);
  const [refusal, setRefusal] = useState<string>();
  if (signedIn.value?.roles.includes('head') !== true) return null;
  const make = async () => {
    if (isMaking) return;
    setMaking(true);
    setRefusal(undefined);
    const asked = await backUpNow();
    setMaking(false);
    if ('problem' in asked) return setRefusal(asked.problem.detail);
    announce('The log is backed up, and the copy is checked.');
    onMade();
  };
  return (
    <div class="actions">
      <button
        type="button"
        class="button quiet"
        aria-disabled={isMaking}
        onClick={() => void make()}
      >
        {isMaking ? 'Copying and checking…' : 'Back up now'}
      </button>
      {refusal !== undefined && <p role="alert">{refusal}</p>}
    </div>
  );
}

function Advice({ isOnServer }: { isOnServer: boolean }) {
  return (
    <>
      <p class="prose">
        <strong>Keep a copy off this machine.</strong> A fire, a theft or a flood takes every disk
        of the brewery at once: once a week, carry one home on a stick or send one to another site.
        Never copy the live file itself; this makes a copy that is whole:
      </p>
      <p>
        <code>npm run backup -- /mnt/usb</code>
      </p>
      <Why title="How to bring the log back">
        <ol>
          <li>Stop Barmbook.</li>
          {isOnServer && (
            <li>
              Leave <code>DATABASE_URL</code> out from here on: a backup is restored into a file,
              not onto the database server.
            </li>
          )}
          <li>
            <code>npm run restore</code> takes the newest good backup and what the running copy
            holds after it. What was there before is moved aside, never overwritten.
          </li>
          <li>Start it again, and look at the newest entries.</li>
        </ol>
        <p>
          From a copy kept elsewhere: <code>npm run restore -- FILE</code>, with the small file
          beside it that ends in .json. To try it without changing anything:{' '}
          <code>npm run restore -- --drill</code>
        </p>
      </Why>
      <Why title="What to do when something is red">
        <dl>
          {Object.entries(warningWords).map(([warning, { says, todo }]) => (
            <div key={warning}>
              <dt>{says}</dt>
              <dd>{todo}</dd>
            </div>
          ))}
        </dl>
      </Why>
    </>
  );
}
