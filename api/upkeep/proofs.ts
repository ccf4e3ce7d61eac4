import { verifyChain } from '#db/chain.ts';
import { restoreDrill } from '#db/drill.ts';
import { lastUpkeepMs } from '#db/upkeepEvents.ts';
import { faultFields } from '../log.ts';
import { note, type Parts, whyOf } from './parts.ts';
import type { UpkeepState } from './state.ts';

const dayMs = 24 * 3_600_000;
const checkEveryMs = dayMs;
const drillEveryMs = 7 * dayMs;

/** Proves every day that the journal is unbroken, and every week that it can be restored. */
export async function createProofs(parts: Parts, state: UpkeepState) {
  const { database, settings, now, newId, log } = parts;
  state.check.passedMs = await lastUpkeepMs(database, 'check passed');
  state.drill.passedMs = await lastUpkeepMs(database, 'drill passed');

  const checkIfDue = async () => {
    if (now() - (state.check.passedMs ?? 0) < checkEveryMs || state.check.firstBad !== undefined)
      return;
    const report = await verifyChain(database);
    if (report.sound) {
      const { entries, head } = report;
      state.check.passedMs = now();
      log('info', 'the seals are sound', { entries, head });
      await note(parts, 'check passed', { entries, head });
      return;
    }
    const { firstBad } = report;
    state.check.firstBad = firstBad;
    log('error', 'the journal is broken', firstBad);
    await note(parts, 'check failed', firstBad);
    database.writeStops.set('file', {
      code: 'read_only',
      reason: `The journal is broken at entry ${firstBad.seq} (${firstBad.id}): ${firstBad.why}. Nothing more is written to it; reading works. Restore a backup.`,
    });
  };

  const drillIfDue = async () => {
    const { backupFolder, mirrorFolder } = settings;
    if (state.backup.last === undefined || mirrorFolder === undefined) return;
    const lastMs = Math.max(state.drill.passedMs ?? 0, state.drill.failed?.atMs ?? 0);
    if (now() - lastMs < drillEveryMs) return;
    try {
      const { entries, lost, backup } = await restoreDrill(
        database,
        { backupFolder, mirrorFolder },
        { nowMs: now(), newId: newId(), scratch: backupFolder },
      );
      state.drill = { passedMs: now(), failed: undefined };
      log('info', 'a restore was proven', { entries, lost, file: backup.file });
      await note(parts, 'drill passed', { entries, lost, file: backup.file });
    } catch (error) {
      state.drill.failed = { atMs: now(), why: whyOf(error) };
      log('error', 'the restore drill failed', faultFields(error));
      await note(parts, 'drill failed', { why: whyOf(error) });
    }
  };

  return { checkIfDue, drillIfDue };
}
