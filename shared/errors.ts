export type FieldError = { path: string; message: string };

/** Why nothing can be written just now, though what is written can be read. */
export type WriteStopCode = 'unavailable' | 'storage_full' | 'read_only' | 'clock_invalid';

export type DomainErrorCode = 'not_found' | 'conflict' | 'invalid' | WriteStopCode;

/** A refusal a person can act on; `errors` names each field and what was expected of it. */
export class DomainError extends Error {
  readonly code: DomainErrorCode;
  readonly errors: readonly FieldError[];

  constructor(code: DomainErrorCode, message: string, errors: readonly FieldError[] = []) {
    super(message);
    this.name = 'DomainError';
    this.code = code;
    this.errors = errors;
  }
}
