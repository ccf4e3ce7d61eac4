type LogLevel = 'info' | 'warn' | 'error';
type LogFields = Record<string, string | number | boolean | null>;
/** Notes one thing that happened; no field may hold a secret or what a person typed. */
export type Log = (level: LogLevel, event: string, fields?: LogFields) => void;

/** A log of JSON, a line an event, for a supervisor to keep. */
export function jsonLog(write: (line: string) => void, now: () => number): Log {
  return (level, event, fields = {}) =>
    write(`${JSON.stringify({ at: new Date(now()).toISOString(), level, event, ...fields })}\n`);
}

/** An error in one line, with where it came from; for the log, never for an answer. */
export function faultFields(error: unknown): LogFields {
  if (!(error instanceof Error)) return { message: String(error) };
  const cause = error.cause instanceof Error ? error.cause.message : null;
  return { message: error.message, cause, stack: error.stack ?? null };
}
