import { mkdir, readdir, symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createClient } from '@libsql/client';
import { afterAll, expect, test, vi } from 'vitest';
import { freeConnections } from '#db/freeConnections.ts';
import { networkShareOf, readMountTable } from '#db/opening/networkShare.ts';
import { openLog } from '#db/opening/openLog.ts';
import { aFolder, type Folder, newId, pause } from './rig.ts';

// What is looked over here is never so damaged that it ends the process; a process each takes long.
vi.mock('#db/safety/inspectApart.ts', async () => {
  const { inspectFile } = await import('#db/safety/inspect.ts');
  return { inspectApart: inspectFile };
});

const folders: Folder[] = [];
afterAll(async () => {
  for (const folder of folders) await folder.remove();
});
async function ownFolder(): Promise<Folder> {
  const folder = await aFolder();
  folders.push(folder);
  return folder;
}
const opening = () => ({ nowMs: Date.now(), newId: newId() });
const root = 'overlay / overlay rw 0 0';

test.each(['nfs', 'nfs4', 'cifs', 'smb3', 'fuse.sshfs', '9p'])(
  'a log on a share of kind %s is refused at start, and nothing is made there',
  async (kind) => {
    const folder = await ownFolder();
    const mountTable = [root, `server:/yeast ${folder.path} ${kind} rw 0 0`, ''].join('\n');
    await expect(openLog(folder, { ...opening(), mountTable })).rejects.toMatchObject({
      exitCode: 7,
      message: expect.stringContaining(`on a network share (${kind})`),
    });
    expect(await readdir(folder.path)).toEqual([]);
  },
);

test('a log on a disk of the machine is opened, also inside a share', async () => {
  const folder = await ownFolder();
  const mountTable = [
    'server:/all / nfs4 rw 0 0',
    `/dev/sda1 ${folder.path} ext4 rw 0 0`,
    `tmpfs ${folder.path}-beside nfs rw 0 0`,
  ].join('\n');
  const log = await openLog(folder, { ...opening(), mountTable });
  await log.close();
});

test('a share is known by a path with blanks, through a link, and under what hides it', async () => {
  const { path } = await ownFolder();
  const share = join(path, 'yeast log');
  await mkdir(join(share, 'data'), { recursive: true });
  await symlink(share, join(path, 'link'));
  const written = share.replaceAll(' ', '\\040');
  const table = `${root}\n//server/yeast ${written} cifs rw 0 0`;
  expect(networkShareOf(join(share, 'data'), table)).toBe('cifs');
  expect(networkShareOf(join(path, 'link'), table)).toBe('cifs');
  expect(networkShareOf(path, table)).toBeUndefined();
  expect(networkShareOf(share, `${table}\n/dev/sdb1 ${written} ext4 rw 0 0`)).toBeUndefined();
  expect(networkShareOf(share, `/dev/sdb1 ${written} ext4 rw 0 0\n${table}`)).toBe('cifs');
  expect(networkShareOf(share, '')).toBeUndefined();
});

test('the table of this machine is read as it is', () => {
  const table = readMountTable();
  if (process.platform === 'linux') expect(table).toMatch(/^\S+ \/ \S+ /m);
  expect(networkShareOf('/', 'x /home nfs rw 0 0')).toBeUndefined();
});

test('a log that something still reads, left behind by a killed start, is opened once that is over', async () => {
  const folder = await ownFolder();
  await (await openLog(folder, opening())).close();
  const reader = createClient({ url: pathToFileURL(folder.file).href, concurrency: 1 });
  const reading = await reader.transaction('read');
  await reading.execute('SELECT count(*) FROM journal');
  const began = performance.now();
  const over = pause(700).then(async () => {
    reading.close();
    reader.close();
    await freeConnections();
  });
  const log = await openLog(folder, opening());
  expect(performance.now() - began).toBeGreaterThan(600);
  await over;
  await log.close();
});
