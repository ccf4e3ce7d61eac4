import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { verifyChain } from '#db/chain.ts';
import { type Database, openDatabase } from '#db/database.ts';
import { migrate } from '#db/migrate.ts';
import { rebuild } from '#db/upkeep.ts';
import { readEnvironment } from './environment.ts';

const usage = `Run with the tool stopped:
  npm run verify            check the seals of the whole journal
  npm run rebuild           make all other tables anew from the journal
  npm run backup -- FILE    write a checked copy to a file that is not there yet`;

type Task = (database: Database, argument: string | undefined) => Promise<string>;

const tasks: Record<string, Task> = {
  verify: async (database) => {
    const report = await verifyChain(database);
    if (report.sound) return `Sound: ${report.entries} entries, head ${report.head}`;
    throw new Error(
      `Broken at entry ${report.firstBad.seq} (${report.firstBad.id}): ${report.firstBad.why}`,
    );
  },
  rebuild: async (database) => `Rebuilt from ${(await rebuild(database)).entries} entries`,
  backup: async (database, argument) => {
    if (argument === undefined) throw new Error('Name the file to write the copy to.');
    const target = resolve(argument);
    if (existsSync(target)) throw new Error(`${argument} is there already; nothing was written.`);
    await database.execute({ sql: 'VACUUM INTO ?', args: [target] });
    const copy = await openDatabase(pathToFileURL(target).href);
    const report = await verifyChain(copy);
    await copy.close();
    if (!report.sound) throw new Error('The copy is not sound: do not rely on it.');
    return `Copied and checked: ${report.entries} entries, head ${report.head}`;
  },
};

async function run([name = '', argument]: readonly string[]): Promise<void> {
  const task = tasks[name];
  if (task === undefined) throw new Error(usage);
  const environment = readEnvironment(process.env, { isDemo: false });
  const database = await openDatabase(environment.databaseUrl, environment.databaseAuthToken);
  try {
    await migrate(database, Date.now());
    console.log(await task(database, argument));
  } finally {
    await database.close();
  }
}

run(process.argv.slice(2)).catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
});
