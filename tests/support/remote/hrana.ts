/** The part of the Hrana 2 protocol over HTTP that is spoken here, as JSON. */
export type Value =
  | { type: 'null' }
  | { type: 'integer'; value: string }
  | { type: 'float'; value: number }
  | { type: 'text'; value: string }
  | { type: 'blob'; base64: string };

export type Statement = {
  sql?: string;
  sql_id?: number;
  args?: Value[];
  named_args?: { name: string; value: Value }[];
  want_rows?: boolean;
};

export type Condition =
  | { type: 'ok' | 'error'; step: number }
  | { type: 'not'; cond: Condition }
  | { type: 'and' | 'or'; conds: Condition[] }
  | { type: 'is_autocommit' };

export type StreamRequest =
  | { type: 'close' }
  | { type: 'execute'; stmt: Statement }
  | { type: 'batch'; batch: { steps: { condition?: Condition | null; stmt: Statement }[] } }
  | { type: 'sequence'; sql?: string; sql_id?: number }
  | { type: 'store_sql'; sql_id: number; sql: string }
  | { type: 'close_sql'; sql_id: number }
  | { type: 'get_autocommit' };

export type Fault = { message: string; code: string };

export type StatementResult = {
  cols: { name: string; decltype: string | null }[];
  rows: Value[][];
  affected_row_count: number;
  last_insert_rowid: string | null;
};

export type StreamResponse =
  | { type: 'close' | 'sequence' | 'store_sql' | 'close_sql' }
  | { type: 'execute'; result: StatementResult }
  | {
      type: 'batch';
      result: { step_results: (StatementResult | null)[]; step_errors: (Fault | null)[] };
    }
  | { type: 'get_autocommit'; is_autocommit: boolean };

export type StreamResult =
  | { type: 'ok'; response: StreamResponse }
  | { type: 'error'; error: Fault };

export type Pipeline = { baton?: string | null; requests: StreamRequest[] };

export function valueFrom(cell: unknown): Value {
  if (cell === null || cell === undefined) return { type: 'null' };
  if (typeof cell === 'bigint') return { type: 'integer', value: String(cell) };
  if (typeof cell === 'number') return { type: 'float', value: cell };
  if (typeof cell === 'string') return { type: 'text', value: cell };
  if (cell instanceof ArrayBuffer || cell instanceof Uint8Array)
    return { type: 'blob', base64: Buffer.from(cell as Uint8Array).toString('base64') };
  throw new TypeError(`No such value in the protocol: ${typeof cell}`);
}

/** A value as the engine binds it: whole numbers as bigint, all other numbers as floating point. */
export function boundFrom(value: Value): null | bigint | number | string | Buffer {
  switch (value.type) {
    case 'null':
      return null;
    case 'integer':
      return BigInt(value.value);
    case 'blob':
      return Buffer.from(value.base64, 'base64');
    default:
      return value.value;
  }
}
