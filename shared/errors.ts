export type FieldError = { path: string; message: string };

export type DomainErrorCode = 'not_found' | 'conflict' | 'invalid' | 'unavailable';

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
