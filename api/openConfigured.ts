import { randomUUID } from 'node:crypto';
import { type OpenLog, openLog } from '#db/opening/openLog.ts';
import { openRemoteLog } from '#db/remote/openRemoteLog.ts';
import type { Environment, UpkeepSettings } from './environment.ts';

export type ConfiguredLog = OpenLog & {
  /** How its copies are kept by this process. */
  upkeep: UpkeepSettings;
};

/**
 * Opens the log that the settings name, in a file or on a database server.
 * @throws StartRefusal when it must not be opened
 */
export async function openConfigured(
  { upkeep, databaseUrl: url, databaseAuthToken: authToken }: Environment,
  { anew = false } = {},
): Promise<ConfiguredLog> {
  const { file, backupFolder, mirrorFolder } = upkeep;
  const now = { nowMs: Date.now(), newId: randomUUID() };
  if (file !== undefined) {
    const log = await openLog({ file, backupFolder, mirrorFolder }, { ...now, anew });
    return { ...log, upkeep };
  }
  const log = await openRemoteLog({ url, authToken, backupFolder, mirrorFolder }, now);
  return { ...log, upkeep: log.makesCopies ? upkeep : withoutCopies(upkeep) };
}

const withoutCopies = (upkeep: UpkeepSettings): UpkeepSettings => ({
  ...upkeep,
  mirrorFolder: undefined,
  secondFolder: undefined,
  everyHours: 0,
  isCopiedElsewhere: true,
});
