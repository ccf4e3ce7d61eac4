import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openLog } from '#db/opening/openLog.ts';
import { listBackups } from '#db/safety/backup.ts';

test('backups that cannot be read are not taken for none', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-list-'));
  const backupFolder = join(folder, 'backups');
  expect(await listBackups(backupFolder)).toEqual([]);
  // What stands in the place of the folder cannot be listed.
  await writeFile(backupFolder, '');
  await expect(listBackups(backupFolder)).rejects.toThrow('ENOTDIR');
  const place = { file: join(folder, 'barmbook.db'), backupFolder, mirrorFolder: undefined };
  await expect(openLog(place, { nowMs: 0, newId: 'x', mountTable: '' })).rejects.toThrow(
    /is missing or empty.*The backups in .* cannot be read \(ENOTDIR/,
  );
  await rm(folder, { recursive: true });
});
