import { useEffect, useState } from 'preact/hooks';
import { fetchUpkeep, type UpkeepReport } from '../apiClient.ts';
import { moment } from '../format.ts';
import { signedIn } from '../signedIn.ts';
import '../styles/outbox.css';

const askEveryMs = 60_000;

/** In the frame of every page: that nothing can be saved just now, or that copies are late. */
export function UpkeepNotice() {
  const report = useUpkeep();
  if (report === null || report.warnings.length === 0) return null;
  return (
    <div role="status" class="outbox-lines">
      {report.stop === null ? (
        <p class="outbox-line">{report.warnings.map((warning) => words[warning]).join(' ')}</p>
      ) : (
        <p class="outbox-line outbox-stop">
          <strong>Nothing can be saved just now.</strong> {report.stop.reason} What you type is kept
          on this device.
        </p>
      )}
      {report.warnings.includes('backup') && (
        <p class="outbox-line">
          {report.lastBackupAt === null
            ? 'There is no backup yet.'
            : `The last backup is of ${moment(report.lastBackupAt)}.`}{' '}
          {report.backupFailed}
        </p>
      )}
    </div>
  );
}

const words: Record<UpkeepReport['warnings'][number], string> = {
  chain: 'The journal is broken: see the log of the server.',
  disk: 'The disk of the log is full.',
  clock: 'The clock of the server is wrong.',
  readonly: 'The log can only be read.',
  backup: 'The backup of the log is late.',
  second_place: 'The copies in the second place are late: is it connected?',
  mirror: 'The running copy of the journal cannot be written.',
  drill: 'The last trial of a restore failed: see the log of the server.',
};

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
