import type { Client } from '@libsql/client';

const rowsAtOnce = 5_000;
const rowsAtStart = 10_000;

// The driver ends the whole process on text that is not valid UTF-8, so it is read as bytes first.
export async function faultOfText(
  client: Client,
  tables: readonly string[],
  depth: 'start' | 'full',
): Promise<string | undefined> {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  const looked = depth === 'full' ? tables : ['journal'];
  for (const table of looked) {
    const columns = await textColumns(client, table);
    if (columns.length === 0) continue;
    const bytes = columns.map((column) => `CAST(${column} AS BLOB) AS ${column}`).join(', ');
    const total = await countOf(client, table);
    const from = depth === 'full' ? 0 : Math.max(0, total - rowsAtStart);
    for (let offset = from; offset < total; offset += rowsAtOnce) {
      const { rows } = await client.execute(
        `SELECT ${bytes} FROM ${table} LIMIT ${rowsAtOnce} OFFSET ${offset}`,
      );
      for (const row of rows)
        for (const column of columns)
          if (!isText(decoder, row[column]))
            return `${table}.${column} holds text that is not valid UTF-8`;
    }
  }
  return undefined;
}

function isText(decoder: TextDecoder, value: unknown): boolean {
  if (!(value instanceof ArrayBuffer)) return true;
  try {
    decoder.decode(value);
    return true;
  } catch {
    return false;
  }
}

async function textColumns(client: Client, table: string): Promise<string[]> {
  const { rows } = await client.execute(`PRAGMA table_info(${table})`);
  return rows.filter((row) => row.type === 'TEXT').map((row) => String(row.name));
}

export async function countOf(client: Client, table: string): Promise<number> {
  const { rows } = await client.execute(`SELECT count(*) AS total FROM ${table}`);
  return Number(rows[0]?.total);
}
