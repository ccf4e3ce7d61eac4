import { useEffect, useState } from 'preact/hooks';
import { minuteMs } from '#shared/durations.ts';
import { fetchUpkeep, type UpkeepReport } from '../../apiClient.ts';
import { moment } from '../../format.ts';
import { signedIn } from '../../signedIn.ts';
import { badEntry, type UpkeepWarning, warningWords } from '../../upkeepWords.ts';
import '../../styles/outbox.css';

const askEveryMs = minuteMs;

/** In the frame of every page: that nothing can be saved just now, or that copies are late. */
export function UpkeepNotice() {
  const report = useUpkeep();
  if (report === null || report.warnings.length === 0) return null;
  const { stops, warnings, check, backup } = report;
  return (
    <div role="status" class="outbox-lines">
      <p class={stops.length > 0 ? 'outbox-line outbox-stop' : 'outbox-line'}>
        {stops.length > 0 && (
          <>
            <strong>Nothing can be saved just now.</strong>{' '}
            {check.firstBad === null && stops.map(({ reason }) => reason).join(' ')} What you type
            is kept on this device.{' '}
          </>
        )}
        {check.firstBad !== null && (
          <>
            {badEntry(check.firstBad)}{' '}
            <a href={`/records/${check.firstBad.recordId}`}>What it says now</a>{' '}
          </>
        )}
        {warnings
          .filter((warning) => !isToldByStop.has(warning))
          .map((warning) => said(warning, backup))
          .join(' ')}{' '}
        <a href="/setup#safe">What to do</a>
      </p>
    </div>
  );
}

function said(warning: UpkeepWarning, { last }: UpkeepReport['backup']): string {
  const { says } = warningWords[warning];
  if (warning !== 'backup') return says;
  return `${says} ${last === null ? 'There is none yet.' : `The last one is of ${moment(last.at)}.`}`;
}

/** What the reasons why nothing is saved say already. */
const isToldByStop: ReadonlySet<UpkeepWarning> = new Set(['chain', 'disk', 'clock', 'readonly']);

function useUpkeep(): UpkeepReport | null {
  const [report, setReport] = useState<UpkeepReport | null>(null);
  const who = signedIn.value?.id;
  useEffect(() => {
    if (who === undefined) return setReport(null);
    const ask = () => fetchUpkeep().then(setReport, () => undefined);
    void ask();
    const timer = setInterval(ask, askEveryMs);
    return () => clearInterval(timer);
  }, [who]);
  return report;
}
