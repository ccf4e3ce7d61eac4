import Libsql from 'libsql';
import {
  boundFrom,
  type Condition,
  type Fault,
  type Statement,
  type StatementResult,
  type StreamRequest,
  type StreamResponse,
  type StreamResult,
  valueFrom,
} from './hrana.ts';
import { isRefused } from './refusedStatements.ts';

type Engine = InstanceType<typeof Libsql>;

/** Where statements that were refused are noted, by their text. */
export type Seen = { statements: number; refused: string[] };

class ProtocolFault extends Error {
  readonly code: string;
  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}

/** One stream of the protocol on a connection of its own. */
export function openStream(file: string, seen: Seen, foreignKeys: boolean) {
  const engine: Engine = new Libsql(file, { timeout: 1_000 });
  engine.defaultSafeIntegers(true);
  engine.exec(`PRAGMA foreign_keys = ${foreignKeys ? 'ON' : 'OFF'}`);
  const texts = new Map<number, string>();
  let isBroken = false;

  const textOf = ({ sql, sql_id: id }: Pick<Statement, 'sql' | 'sql_id'>): string => {
    const text = sql ?? texts.get(id ?? -1);
    if (text === undefined) throw new ProtocolFault('SQL_NOT_FOUND', 'no such stored text');
    seen.statements += 1;
    if (!isRefused(text)) return text;
    seen.refused.push(text);
    throw new ProtocolFault('SQL_PARSE_ERROR', `SQL not allowed: ${text.slice(0, 60)}`);
  };

  const execute = (statement: Statement): StatementResult => {
    const prepared = engine.prepare(textOf(statement));
    const args = (statement.args ?? []).map(boundFrom);
    const named = (statement.named_args ?? []).map(({ name, value }) => [
      name.replace(/^[:@$]/, ''),
      boundFrom(value),
    ]);
    const bound = named.length > 0 ? Object.fromEntries(named) : args;
    const columns = prepared.columns();
    if (columns.length === 0) {
      const { changes, lastInsertRowid } = prepared.run(bound);
      return {
        cols: [],
        rows: [],
        affected_row_count: Number(changes),
        last_insert_rowid: String(lastInsertRowid),
      };
    }
    const rows = prepared.raw().all(bound) as unknown[][];
    return {
      cols: columns.map(({ name, type }) => ({ name, decltype: type })),
      rows: rows.map((row) => [...row].map(valueFrom)),
      affected_row_count: 0,
      last_insert_rowid: null,
    };
  };

  const faultOf = (error: unknown): Fault => {
    if (error instanceof ProtocolFault) return { message: error.message, code: error.code };
    const { message, code } = error as { message: string; code?: string };
    // A server tells no more than the class of a constraint.
    const known = /^SQLITE_[A-Z]+/.exec(code ?? '')?.[0] ?? 'SQLITE_ERROR';
    // The engine never resets what failed busy, so the connection is not used again.
    if (known === 'SQLITE_BUSY') isBroken = true;
    return { message: `SQLite error: ${message}`, code: known };
  };

  const batch = (steps: { condition?: Condition | null; stmt: Statement }[]) => {
    const results: (StatementResult | null)[] = [];
    const errors: (Fault | null)[] = [];
    const holds = (condition: Condition): boolean => {
      switch (condition.type) {
        case 'ok':
          return results[condition.step] !== null && results[condition.step] !== undefined;
        case 'error':
          return errors[condition.step] !== null && errors[condition.step] !== undefined;
        case 'not':
          return !holds(condition.cond);
        case 'and':
          return condition.conds.every(holds);
        case 'or':
          return condition.conds.some(holds);
        case 'is_autocommit':
          return !engine.inTransaction;
      }
    };
    for (const { condition, stmt } of steps) {
      let result: StatementResult | null = null;
      let error: Fault | null = null;
      if (condition === undefined || condition === null || holds(condition))
        try {
          result = execute(stmt);
        } catch (thrown) {
          error = faultOf(thrown);
        }
      results.push(result);
      errors.push(error);
    }
    return { step_results: results, step_errors: errors };
  };

  const respond = (request: StreamRequest): StreamResponse => {
    switch (request.type) {
      case 'execute':
        return { type: 'execute', result: execute(request.stmt) };
      case 'batch':
        return { type: 'batch', result: batch(request.batch.steps) };
      case 'sequence':
        for (const sql of textOf(request).split(';'))
          if (sql.trim() !== '') engine.exec(textOf({ sql }));
        return { type: 'sequence' };
      case 'store_sql':
        texts.set(request.sql_id, request.sql);
        return { type: 'store_sql' };
      case 'close_sql':
        texts.delete(request.sql_id);
        return { type: 'close_sql' };
      case 'get_autocommit':
        return { type: 'get_autocommit', is_autocommit: !engine.inTransaction };
      case 'close':
        return { type: 'close' };
    }
  };

  return {
    run: (request: StreamRequest): StreamResult => {
      try {
        return { type: 'ok', response: respond(request) };
      } catch (error) {
        return { type: 'error', error: faultOf(error) };
      }
    },
    /** Takes back what was not committed; true when the connection may serve another stream. */
    reset: (): boolean => {
      texts.clear();
      if (engine.inTransaction && !isBroken) engine.exec('ROLLBACK');
      if (isBroken) engine.close();
      return !isBroken;
    },
    close: () => engine.close(),
  };
}

export type Stream = ReturnType<typeof openStream>;
