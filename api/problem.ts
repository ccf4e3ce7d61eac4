import { HTTPException } from 'hono/http-exception';
import { DomainError, type DomainErrorCode, type FieldError } from '#shared/errors.ts';

export type ProblemCode =
  | DomainErrorCode
  | 'bad_request'
  | 'too_large'
  | 'unsupported_media_type'
  | 'internal';

/** RFC 9457 problem details, with a code and the fields at fault. */
export type Problem = {
  type: string;
  title: string;
  status: number;
  detail: string;
  code: ProblemCode;
  errors: readonly FieldError[];
};

const meanings: Record<ProblemCode, { status: number; title: string }> = {
  bad_request: { status: 400, title: 'The request could not be read' },
  not_found: { status: 404, title: 'Not found' },
  conflict: { status: 409, title: 'It does not fit what is already recorded' },
  too_large: { status: 413, title: 'The request is too large' },
  unsupported_media_type: { status: 415, title: 'Send JSON' },
  invalid: { status: 422, title: 'Some fields need another look' },
  internal: { status: 500, title: 'Something went wrong here; nothing was saved' },
  unavailable: { status: 503, title: 'The log cannot be reached just now; nothing was saved' },
  storage_full: { status: 503, title: 'There is no room on the disk; nothing was saved' },
  read_only: { status: 503, title: 'The log can only be read just now; nothing was saved' },
  clock_invalid: { status: 503, title: "The server's clock is wrong; nothing was saved" },
};

const mostErrors = 20;
const retryAfterSeconds = 10;

export class RequestError extends Error {
  readonly code: ProblemCode;
  constructor(code: ProblemCode, message: string) {
    super(message);
    this.name = 'RequestError';
    this.code = code;
  }
}

/** The one place where an error becomes an answer. */
export function problemOf(error: unknown): Problem {
  if (error instanceof DomainError) return problem(error.code, error.message, error.errors);
  if (error instanceof RequestError) return problem(error.code, error.message);
  if (error instanceof HTTPException && error.status < 500)
    return problem('bad_request', 'The request could not be read.');
  return problem('internal', 'The fault has been noted; try again.');
}

function problem(code: ProblemCode, detail: string, errors: readonly FieldError[] = []): Problem {
  const { status, title } = meanings[code];
  return {
    type: `/api/problems#${code}`,
    title,
    status,
    detail,
    code,
    errors: errors.slice(0, mostErrors),
  };
}

export function respondWithProblem(error: unknown): Response {
  const body = problemOf(error);
  if (body.code === 'internal') console.error(error);
  return new Response(JSON.stringify(body), {
    status: body.status,
    headers: {
      'content-type': 'application/problem+json; charset=utf-8',
      ...(body.status === 503 ? { 'retry-after': String(retryAfterSeconds) } : {}),
    },
  });
}

export const problemList = Object.entries(meanings).map(([code, meaning]) => ({
  code,
  ...meaning,
}));
