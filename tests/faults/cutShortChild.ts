import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { openLog } from '#db/opening/openLog.ts';
import { makeBackup } from '#db/safety/backup.ts';
import { openMirror } from '#db/safety/mirror.ts';
import { restore } from '#db/safety/restore.ts';

// What the programs do to the files of a log, without the rest of them: such a child is soon there.
const [task = '', path = ''] = process.argv.slice(2);
const backupFolder = join(path, 'backups');
const mirrorFolder = join(backupFolder, 'mirror');
const place = { file: join(path, 'barmbook.db'), backupFolder, mirrorFolder };
const at = { nowMs: Date.now(), newId: randomUUID() };

const open = async () => (await openLog(place, at)).database;
const tasks: Record<string, () => Promise<unknown>> = {
  open,
  backup: async () =>
    makeBackup(await open(), { folder: backupFolder, nowMs: at.nowMs, reason: 'asked' }),
  mirror: async () => (await openMirror(mirrorFolder, await open())).catchUp(),
  restore: () => restore(place, { ...at, withMirror: true }),
};
await tasks[task]?.();
process.exit(0);
