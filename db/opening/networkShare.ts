import { existsSync, readFileSync, realpathSync } from 'node:fs';

// Locks and syncing are not to be relied on there.
const networkFileSystems = /^(nfs|cifs|smb|afs|9p|ncp|fuse\.(sshfs|s3fs|rclone|davfs))/;

/** What is mounted where, as the machine tells it; empty where it does not. */
export const readMountTable = () =>
  existsSync('/proc/mounts') ? readFileSync('/proc/mounts', 'utf8') : '';

/**
 * The kind of network share a folder is on, by the table of what is mounted.
 * @returns undefined on a disk of the machine itself
 */
export function networkShareOf(folder: string, mountTable: string): string | undefined {
  const path = realpathSync(folder);
  const [nearest] = mountTable
    .split('\n')
    .map((line) => line.split(' '))
    .map(([, at = '', kind = '']) => ({ at: unescaped(at), kind }))
    .filter(({ at }) => at === '/' || path === at || path.startsWith(`${at}/`))
    // Of two at one place the later hides the earlier.
    .reverse()
    .sort((a, b) => b.at.length - a.at.length);
  return nearest !== undefined && networkFileSystems.test(nearest.kind) ? nearest.kind : undefined;
}

/** A blank in a path stands in the table as `\040`. */
const unescaped = (path: string) =>
  path.replace(/\\([0-7]{3})/g, (_, octal: string) =>
    String.fromCharCode(Number.parseInt(octal, 8)),
  );
