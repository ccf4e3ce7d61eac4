export type FieldError = { path: string; message: string };

/** Why nothing can be written just now, though what is written can be read. */
export type WriteStopCode = 'unavailable' | 'storage_full' | 'read_only' | 'clock_invalid';

/** `unanswered`: it is not known whether it was saved. */
export type DomainErrorCode = 'not_found' | 'conflict' | 'invalid' | 'unanswered' | WriteStopCode;

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

/** The refusal that an error is, or that it was thrown for: a library may have wrapped it. */
export function domainErrorIn(error: unknown): DomainError | undefined {
  for (let each = error; each instanceof Error; each = each.cause)
    if (each instanceof DomainError) return each;
  return undefined;
}
