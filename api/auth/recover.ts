import { openDatabase } from '#db/database.ts';
import { migrate } from '#db/migrate.ts';
import { findAccount, setActivation } from '#db/people/accounts.ts';
import { hourMs } from '#shared/durations.ts';
import { readEnvironment } from '../environment.ts';
import { codeSha256, randomCode } from './secrets.ts';

const codeMs = hourMs;

/** Whoever can run a program on the machine can let a person in again who forgot the password. */
async function recover([userName]: readonly string[]): Promise<string> {
  if (userName === undefined) return 'Run with the tool stopped: npm run recover -- USERNAME';
  const { databaseUrl, databaseAuthToken } = readEnvironment(process.env, { isDemo: false });
  const database = await openDatabase(databaseUrl, databaseAuthToken);
  try {
    const nowMs = Date.now();
    await migrate(database, nowMs);
    const account = await findAccount(database.query, { userName });
    if (account === undefined) throw new Error(`Nobody has the user name ${userName}.`);
    const code = randomCode();
    await setActivation(
      database,
      account,
      { codeSha256: codeSha256(code), expiresMs: nowMs + codeMs },
      { atMs: nowMs, what: 'code issued', userName: null, address: null, detail: userName },
    );
    return `Start Barmbook and open, within the hour: /welcome#activate=${code}&name=${userName}`;
  } finally {
    await database.close();
  }
}

recover(process.argv.slice(2)).then(
  (said) => console.log(said),
  (error: unknown) => {
    console.error(error instanceof Error ? error.message : error);
    process.exitCode = 1;
  },
);
