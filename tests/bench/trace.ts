import { type Log, oneFamily, withLog } from './logs.ts';
import { recordedStatements } from './recordedStatements.ts';
import { markdown, medians, processorMs, ratio } from './timing.ts';

const runs = 5;

const statements = recordedStatements();

/**
 * What every program must do that tells a whole family by recursion: one walk down, told as one
 * value, that names each lot, ferment and racking with its cask batches.
 */
const bareWalk = `
  WITH RECURSIVE down (id) AS (
    SELECT ?
    UNION SELECT pitch.ferment_id FROM down JOIN pitch ON pitch.lot_id = down.id
    UNION SELECT lot.id FROM down JOIN lot ON lot.ferment_id = down.id
    UNION SELECT lot_parent.lot_id FROM down JOIN lot_parent ON lot_parent.parent_id = down.id
    UNION SELECT rack.id FROM down JOIN rack ON rack.ferment_id = down.id
  )
  SELECT json_group_array(json_array(down.id, lot.code, ferment.gyle, rack.batches)) FROM down
    LEFT JOIN lot ON lot.id = down.id LEFT JOIN ferment ON ferment.id = down.id
    LEFT JOIN rack ON rack.id = down.id`;

/** Prints what the trace of 100,000 lots and ferments costs, in processor time. */
export async function benchTrace(): Promise<void> {
  await withLog(oneFamily, async (log) => {
    const source = await log.one(
      "SELECT id FROM lot WHERE kind = 'freshCulture' ORDER BY seq LIMIT 1",
    );
    const rows = [
      await against('as the page asks for it', log, `/api/trace?of=${source}`, source),
      await against('the next part', log, `/api/trace?of=${source}&after=50000`, source),
      await against('whole, as a CSV file', log, `/api/trace.csv?of=${source}`, source),
    ];
    const told = '100,000 lots and ferments with 50,000 rackings of them';
    console.log(`\nThe family of one fresh culture, ${told} (${log.size}):\n`);
    const columns = [
      'bare walk ms',
      'its own SQL ms',
      'API ms',
      'API : own SQL',
      'API : bare walk',
    ];
    console.log(markdown(['trace', ...columns], rows));
  });
}

async function against(
  name: string,
  { database, get }: Log,
  path: string,
  source: string,
): Promise<string[]> {
  const ask = () => get(path);
  const walk = () => database.execute({ sql: bareWalk, args: [source] });
  const sent = await statements.during(ask);
  const replay = async () => {
    for (const { replay } of sent) await replay();
  };
  const [apiMs, walkMs] = await medians(runs, ask, walk, processorMs);
  const [sqlMs] = await medians(runs, replay, walk, processorMs);
  const times = [walkMs, sqlMs, apiMs].map((ms) => ms.toFixed(0));
  return [name, ...times, ratio(apiMs / sqlMs), ratio(apiMs / walkMs)];
}
