import { verifyChain } from '#db/journal/chain.ts';
import { restoreDrill } from '#db/safety/drill.ts';
import { lastUpkeep } from '#db/safety/upkeepEvents.ts';
import { dayMs } from '#shared/durations.ts';
import { faultFields } from '../log.ts';
import { note, type Parts, whyOf } from './parts.ts';
import type { UpkeepState } from './state.ts';

const checkEveryMs = dayMs;
const drillEveryMs = 7 * dayMs;

/** Proves every day that the journal is unbroken, and every week that it can be restored. */
export async function createProofs(parts: Parts, state: UpkeepState) {
  const { database, settings, now, newId, log } = parts;
  const checked = await lastUpkeep(database, 'check passed');
  const failed = await lastUpkeep(database, 'check failed');
  const drilled = await lastUpkeep(database, 'drill passed');
  state.check.passed = checked && { atMs: checked.atMs, ...sealsOf(checked.detail) };
  state.drill.passed = drilled && { atMs: drilled.atMs, ...drillOf(drilled.detail) };
  // A chain once found broken is looked at again at every start, whenever the last good check was.
  let isInDoubt = (failed?.atMs ?? 0) > (checked?.atMs ?? 0);

  const checkIfDue = async () => {
    if (state.check.firstBad !== undefined) return;
    if (!isInDoubt && now() - (state.check.passed?.atMs ?? 0) < checkEveryMs) return;
    const report = await verifyChain(database);
    if (report.sound) {
      const { entries, head } = report;
      isInDoubt = false;
      state.check.passed = { atMs: now(), entries, head };
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
    const lastMs = Math.max(state.drill.passed?.atMs ?? 0, state.drill.failed?.atMs ?? 0);
    if (now() - lastMs < drillEveryMs) return;
    try {
      const { entries, lost, backup } = await restoreDrill(
        database,
        { backupFolder, mirrorFolder },
        { nowMs: now(), newId: newId(), scratch: backupFolder },
      );
      state.drill = { passed: { atMs: now(), entries, lost }, failed: undefined };
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

const sealsOf = (detail: Record<string, unknown>) => ({
  entries: Number(detail.entries),
  head: String(detail.head),
});
const drillOf = (detail: Record<string, unknown>) => ({
  entries: Number(detail.entries),
  lost: Number(detail.lost),
});
