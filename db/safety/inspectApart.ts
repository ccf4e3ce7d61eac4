import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { minuteMs } from '#shared/durations.ts';
import type { Depth, FileReport } from './inspect.ts';

const child = fileURLToPath(new URL('./inspectChild.ts', import.meta.url));
const longestMs = { start: minuteMs, full: 15 * minuteMs };

/** Looks a file over in a process of its own, which a damaged file may end without harm. */
export function inspectApart(path: string, depth: Depth): Promise<FileReport> {
  const options = { timeout: longestMs[depth], maxBuffer: 1024 * 1024 };
  const args = ['--import', 'tsx', child, path, depth];
  return new Promise((resolve) => {
    execFile(process.execPath, args, options, (error, stdout) => {
      resolve(error === null ? JSON.parse(stdout) : { state: 'damaged', why: endOf(error) });
    });
  });
}

function endOf(error: { signal?: NodeJS.Signals | null; code?: number | string | null }): string {
  if (error.signal === 'SIGABRT')
    return 'reading it ends the program, as text that is not valid UTF-8 does';
  if (error.signal === 'SIGTERM') return 'looking it over took too long';
  return `looking it over failed (${error.signal ?? error.code})`;
}
