import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { copyFile, mkdir, open, rename, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';

// None of these is ever given the log itself while it is open: closing any handle to that file in
// this process would give up its lock.

/** Writes a small file whole or not at all, and has it on the disk when it returns. */
export async function writeWhole(path: string, text: string): Promise<void> {
  const partial = `${path}.partial`;
  await writeFile(partial, text, { mode: 0o600 });
  await moveWhole(partial, path);
}

/** Gives a finished file its name, and has both on the disk when it returns. */
export async function moveWhole(from: string, to: string): Promise<void> {
  await synced(from);
  await rename(from, to);
  await synced(dirname(to));
}

/** Copies a file under a passing name first, so that a half copy never bears the name. */
export async function copyWhole(from: string, to: string): Promise<void> {
  await mkdir(dirname(to), { recursive: true, mode: 0o700 });
  await copyFile(from, `${to}.partial`);
  await moveWhole(`${to}.partial`, to);
}

async function synced(path: string): Promise<void> {
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

export async function sha256OfFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const part of createReadStream(path)) hash.update(part);
  return hash.digest('hex');
}
