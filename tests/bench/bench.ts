/** Ratios, not times, since machines differ: `npm run bench`, or `npm run bench -- routines`. */
const parts: Record<string, () => Promise<void>> = {
  routines: async () => (await import('./routines.ts')).benchRoutines(),
  log: async () => (await import('./log.ts')).benchLog(),
  trace: async () => (await import('./trace.ts')).benchTrace(),
  page: async () => (await import('./firstLoad.ts')).benchFirstLoad(),
  'log-full': async () => (await import('./log.ts')).benchFullLog(),
};

const asked = process.argv.slice(2);
const unknown = asked.find((name) => !(name in parts));
if (unknown !== undefined) {
  console.error(`There is no part ${unknown}; the parts are ${Object.keys(parts).join(', ')}.`);
  process.exit(1);
}
for (const name of asked.length > 0 ? asked : ['routines', 'log', 'trace', 'page'])
  await parts[name]?.();

export {};
