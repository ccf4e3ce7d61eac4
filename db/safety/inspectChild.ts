import { inspectFile } from './inspect.ts';

// Runs on its own: reading a damaged file may end the process, and only this one.
const [path = '', depth] = process.argv.slice(2);
const report = await inspectFile(path, depth === 'full' ? 'full' : 'start');
process.stdout.write(JSON.stringify(report), () => process.exit(0));
