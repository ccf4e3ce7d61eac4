import { mkdirSync, rmSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import * as z from 'zod/mini';

const settings = z.object({
  PORT: z._default(
    z.string().check(
      z.refine((value) => /^\d{1,5}$/.test(value) && Number(value) <= 65_535, {
        error: 'PORT must be a number from 0 to 65535',
      }),
    ),
    '4180',
  ),
  HOST: z._default(
    z.string().check(z.regex(/^[\w.:[\]-]+$/, { error: 'HOST must be a host name or address' })),
    '127.0.0.1',
  ),
  DATA_DIR: z._default(
    z.string().check(z.minLength(1, { error: 'DATA_DIR must name a folder' })),
    './data',
  ),
  DATABASE_URL: z.optional(
    z.string().check(
      z.regex(/^(file:|libsql:\/\/|https?:\/\/)/, {
        error: 'DATABASE_URL must begin with file:, libsql://, https:// or http://',
      }),
    ),
  ),
  DATABASE_AUTH_TOKEN: z.optional(z.string()),
});

export type Environment = {
  port: number;
  host: string;
  dataDir: string;
  databaseUrl: string;
  databaseAuthToken: string | undefined;
};

/** The settings of this process; all that is wrong with them is said at once. */
export function readEnvironment(
  variables: NodeJS.ProcessEnv,
  { isDemo }: { isDemo: boolean },
): Environment {
  const given = Object.fromEntries(
    Object.entries(variables).filter(([, value]) => value !== undefined && value !== ''),
  );
  const result = settings.safeParse(given);
  if (!result.success) {
    const lines = result.error.issues.map((issue) => `  ${issue.message}`);
    throw new Error(`These settings cannot be used:\n${lines.join('\n')}`);
  }
  const { PORT, HOST, DATA_DIR, DATABASE_URL, DATABASE_AUTH_TOKEN } = result.data;
  const dataDir = resolve(DATA_DIR);
  const file = pathToFileURL(resolve(dataDir, isDemo ? 'demo.db' : 'barmbook.db')).href;
  return {
    port: Number(PORT),
    host: HOST,
    dataDir,
    // The demo never touches a real log, whatever DATABASE_URL says.
    databaseUrl: isDemo ? file : (DATABASE_URL ?? file),
    databaseAuthToken: DATABASE_AUTH_TOKEN,
  };
}

export function makeDataDir(dataDir: string): void {
  mkdirSync(dataDir, { recursive: true, mode: 0o700 });
}

/** Removes an embedded database with its side files; for the demo only. */
export function removeDatabaseFile(url: string): void {
  const file = fileURLToPath(url);
  for (const side of ['', '-wal', '-shm', '-journal']) rmSync(`${file}${side}`, { force: true });
}
