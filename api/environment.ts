import { join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import * as z from 'zod/mini';
import { addressFault, tokenIn } from './databaseAddress.ts';

function numberText(error: string, max: number) {
  return z
    .string()
    .check(
      z.refine((value) => /^\d{1,7}(\.\d{1,3})?$/.test(value) && Number(value) <= max, { error }),
    );
}

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
  ALLOWED_HOSTS: z._default(
    z.string().check(
      z.regex(/^[\w.-]+(\s*,\s*[\w.-]+)*$/, {
        error: 'ALLOWED_HOSTS must be host names with commas between them',
      }),
    ),
    'localhost',
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
      z.refine((value) => addressFault(value) === undefined, {
        error: ({ input }) => addressFault(String(input)),
      }),
    ),
  ),
  DATABASE_AUTH_TOKEN: z.optional(z.string()),
  DATABASE_AUTH_TOKEN_FILE: z.optional(z.string()),
  BACKUP_DIR: z.optional(z.string()),
  BACKUP_SECOND_DIR: z.optional(z.string()),
  BACKUP_EVERY_HOURS: z.optional(
    numberText('BACKUP_EVERY_HOURS must be a number of hours from 0 (never) to 168', 168),
  ),
  REQUEST_LIMITS: z._default(
    z.enum(['on', 'off'], { error: 'REQUEST_LIMITS must be on or off' }),
    'on',
  ),
  SAFE_MODE: z._default(z.enum(['on', 'off'], { error: 'SAFE_MODE must be on or off' }), 'on'),
  MIN_FREE_MB: z._default(
    numberText('MIN_FREE_MB must be a number of megabytes from 0 (no guard) to 1000000', 1_000_000),
    '200',
  ),
});

export type Environment = {
  port: number;
  host: string;
  /** Names this machine answers to besides its own. */
  allowedHosts: readonly string[];
  dataDir: string;
  databaseUrl: string;
  databaseAuthToken: string | undefined;
  /** Off only where a test is to load the server. */
  hasRequestLimits: boolean;
  /** Reads only after crash upon crash; off only where a test ends it again and again. */
  hasSafeMode: boolean;
  upkeep: UpkeepSettings;
};

/** Where the log and its copies are, and how they are kept. */
export type UpkeepSettings = {
  /** The file of an embedded log; undefined for a database server. */
  file: string | undefined;
  backupFolder: string;
  /** Undefined where no mirror is kept. */
  mirrorFolder: string | undefined;
  secondFolder: string | undefined;
  /** 0: only when asked. */
  everyHours: number;
  leastFreeBytes: number;
  /** Whether another process on the same folder makes the copies. */
  isCopiedElsewhere?: boolean;
};

// A backup of a log on a server carries all of it over the network.
const usualBackupHours = { file: 1, server: 24 };

/** The settings of this process; all that is wrong with them is said at once. */
export function readEnvironment(
  variables: NodeJS.ProcessEnv,
  { isDemo }: { isDemo: boolean },
): Environment {
  const present = Object.fromEntries(
    Object.entries(variables).filter(([, value]) => value !== undefined && value !== ''),
  );
  const result = settings.safeParse(present);
  if (!result.success) {
    const lines = result.error.issues.map((issue) => `  ${issue.message}`);
    throw new Error(`These settings cannot be used:\n${lines.join('\n')}`);
  }
  const given = result.data;
  const dataDir = resolve(given.DATA_DIR);
  const file = pathToFileURL(resolve(dataDir, isDemo ? 'demo.db' : 'barmbook.db')).href;
  // The demo never touches a real log, whatever DATABASE_URL says.
  const databaseUrl = isDemo ? file : (given.DATABASE_URL ?? file);
  return {
    port: Number(given.PORT),
    host: given.HOST,
    allowedHosts: given.ALLOWED_HOSTS.split(/\s*,\s*/),
    dataDir,
    databaseUrl,
    databaseAuthToken: tokenOf(given),
    hasRequestLimits: given.REQUEST_LIMITS === 'on',
    hasSafeMode: given.SAFE_MODE === 'on' && !isDemo,
    upkeep: upkeepSettings(given, { dataDir, databaseUrl, isDemo }),
  };
}

function tokenOf(given: z.output<typeof settings>): string | undefined {
  const { DATABASE_AUTH_TOKEN: token, DATABASE_AUTH_TOKEN_FILE: file } = given;
  if (file === undefined) return token;
  if (token !== undefined)
    throw new Error('Give DATABASE_AUTH_TOKEN or DATABASE_AUTH_TOKEN_FILE, not both.');
  return tokenIn(resolve(file));
}

function upkeepSettings(
  given: z.output<typeof settings>,
  { dataDir, databaseUrl, isDemo }: { dataDir: string; databaseUrl: string; isDemo: boolean },
): UpkeepSettings {
  const backupFolder = resolve(
    given.BACKUP_DIR ?? join(dataDir, isDemo ? 'demo-backups' : 'backups'),
  );
  const file = databaseUrl.startsWith('file:') ? fileURLToPath(databaseUrl) : undefined;
  const usualHours = usualBackupHours[file === undefined ? 'server' : 'file'];
  return {
    file,
    backupFolder,
    mirrorFolder: isDemo ? undefined : join(backupFolder, 'mirror'),
    secondFolder:
      isDemo || given.BACKUP_SECOND_DIR === undefined
        ? undefined
        : resolve(given.BACKUP_SECOND_DIR),
    everyHours: isDemo ? 0 : Number(given.BACKUP_EVERY_HOURS ?? usualHours),
    leastFreeBytes: Number(given.MIN_FREE_MB) * 1024 * 1024,
  };
}
