import { inspectFile } from '#db/safety/inspect.ts';

// Looks many files over in one process, which one of them may end: the rest are then begun anew.
for (const path of process.argv.slice(2)) {
  console.log(JSON.stringify({ path, report: { state: 'damaged', why: 'it ended the process' } }));
  console.log(JSON.stringify({ path, report: await inspectFile(path, 'full') }));
}
process.exit(0);
