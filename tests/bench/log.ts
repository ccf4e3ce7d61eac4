import { uuidV7 } from '#shared/uuid.ts';
import { endMs, fiftySites, type Log, oneBrewery, withLog } from './logs.ts';
import { recordedStatements } from './recordedStatements.ts';
import { heldMs, markdown, medians, processorMs, ratio } from './timing.ts';

const runs = 15;
/** Asked so often before it is timed: the engine of the language makes its code as it goes. */
const warmings = 10;

const statements = recordedStatements();

/**
 * Prints how the log fares as it grows. Screens are told in processor time, which a busy machine
 * does not change; writes wait for the disk, so theirs is the time on the clock.
 */
export async function benchLog(): Promise<void> {
  const year = await withLog(oneBrewery(1), benchScreens);
  const five = await withLog(oneBrewery(5), benchScreens);
  const twenty = await withLog(oneBrewery(20), benchScreens);
  console.log(`\nLogs of 1 year (${year.size}), 5 years (${five.size}), 20 years:\n`);
  const rows = twenty.screens.map((screen, place) => {
    const [young, middle] = [year.screens[place], five.screens[place]];
    const growth = (later: Screen | undefined) =>
      ratio((later?.apiMs ?? NaN) / (young?.apiMs ?? NaN));
    const perLine = (screen.apiMs / screen.lines / (young?.apiMs ?? NaN)) * (young?.lines ?? NaN);
    const ofLines = /line/.test(screen.name) ? ratio(perLine) : '';
    return [...figuresOf(screen), growth(middle), growth(screen), ofLines];
  });
  const growths = ['5 years : 1 year', '20 years : 1 year', 'the same per line looked at'];
  console.log(markdown([...headings(twenty.size), ...growths], rows));
  await withLog(oneBrewery(1), benchWrites);
}

/** Prints the screens on a log of fifty sites and 20 years, which takes long to make. */
export async function benchFullLog(): Promise<void> {
  const { size, screens } = await withLog(fiftySites, benchScreens);
  console.log(`\n${markdown(headings(size), screens.map(figuresOf))}`);
}

type Screen = {
  name: string;
  statements: number;
  apiMs: number;
  sqlMs: number;
  heldMs: number;
  /** Lines looked at: a young log has fewer. */
  lines: number;
};

const headings = (size: string) => [
  `screen (${size})`,
  'statements',
  'SQL ms',
  'API : bare SQL',
  'holds others up ms',
];
const figuresOf = (screen: Screen) => [
  screen.name,
  String(screen.statements),
  screen.sqlMs.toFixed(1),
  ratio(screen.apiMs / screen.sqlMs),
  screen.heldMs.toFixed(0),
];

async function benchScreens(log: Log): Promise<{ size: string; screens: Screen[] }> {
  const lot = await log.one('SELECT id FROM lot ORDER BY seq DESC LIMIT 1');
  const ferment = await log.one('SELECT id FROM ferment ORDER BY seq DESC LIMIT 1');
  const line = await log.one('SELECT line_id FROM lot ORDER BY seq DESC LIMIT 1');
  const lines = await log.one(
    "SELECT min(6, count(*)) FROM lot AS line WHERE line.kind = 'freshCulture'",
  );
  const paths = {
    today: 'today',
    'lots in store': 'lots/in-store',
    'one lot': `lots/${lot}/standing`,
    'ferments current': 'ferments/current',
    'one ferment': `ferments/${ferment}/standing`,
    lines: 'lines',
    'one line': `lines/${line}`,
    plan: 'plan',
    'set-up': 'setup',
    'trace of a lot': `trace?of=${lot}`,
  };
  const screens: Screen[] = [];
  for (const [name, path] of Object.entries(paths)) {
    const ask = () => log.get(`/api/${path}`);
    for (let warming = 0; warming < warmings; warming += 1) await ask();
    const sent = await statements.during(ask);
    const replay = async () => {
      for (const { replay } of sent) await replay();
    };
    const [apiMs, sqlMs] = await medians(runs, ask, replay, processorMs);
    const held = await heldMs(ask);
    const counts = { statements: sent.length, lines: Number(lines) };
    screens.push({ name, apiMs, sqlMs, heldMs: held, ...counts });
  }
  return { size: log.size, screens };
}

/** Entries a second through the interface, against the same rows inserted bare, as durably. */
async function benchWrites({ database, put, one }: Log): Promise<void> {
  const fermentId = await one('SELECT id FROM ferment ORDER BY seq DESC LIMIT 1');
  const lotId = await one('SELECT id FROM lot ORDER BY seq DESC LIMIT 1');
  const common = { happenedAt: new Date(endMs - 60_000).toISOString(), by: 'Ines' };
  const kinds = {
    reading: { kind: 'reading', fermentId, gravitySg: 1.02 },
    stain: { kind: 'stain', lotId, stain: 'methylene blue', live: 190, dead: 10 },
  };
  await database.write([
    'CREATE TABLE bare_journal AS SELECT * FROM journal WHERE 0',
    'CREATE TABLE bare_reading AS SELECT * FROM reading WHERE 0',
  ]);
  const bare = () =>
    database.write([
      'INSERT INTO bare_journal SELECT * FROM journal ORDER BY seq DESC LIMIT 1',
      'INSERT INTO bare_reading SELECT * FROM reading ORDER BY seq DESC LIMIT 1',
    ]);
  const nextId = serialIds();
  const rows: string[][] = [];
  for (const [name, entry] of Object.entries(kinds)) {
    const write = async () => {
      const { status } = await put(nextId(), { ...common, ...entry });
      if (status !== 201) throw new Error(`A ${name} was answered ${status}`);
    };
    for (let warming = 0; warming < 10 * warmings; warming += 1) await write();
    const reads = (await statements.during(write)).length;
    const [apiMs, bareMs] = await medians(200, write, bare);
    const [busyMs] = await medians(200, write, bare, processorMs);
    rows.push([
      name,
      String(reads),
      ratio(apiMs / bareMs),
      apiMs.toFixed(2),
      busyMs.toFixed(2),
      (1000 / apiMs).toFixed(0),
    ]);
  }
  const columns = ['reads', 'API : bare insert', 'ms', 'of it busy', 'a second'];
  console.log(`\n${markdown(['one entry written, durable when answered', ...columns], rows)}`);
}

function serialIds(): () => string {
  const random = new Uint8Array(10);
  let serial = 0;
  return () => {
    serial += 1;
    new DataView(random.buffer).setUint32(4, serial);
    return uuidV7(endMs, random);
  };
}
