import { HTTPException } from 'hono/http-exception';
import {
  DomainError,
  type DomainErrorCode,
  domainErrorIn,
  type FieldError,
} from '#shared/errors.ts';
import { type EntryNow, StaleEntry } from '#shared/staleEntry.ts';

type ProblemCode =
  | DomainErrorCode
  | 'bad_request'
  | 'signed_out'
  | 'wrong_password'
  | 'forbidden'
  | 'prove_again'
  | 'other_author'
  | 'too_large'
  | 'unsupported_media_type'
  | 'misdirected'
  | 'too_many'
  | 'internal';

/** RFC 9457 problem details, with a code and the fields at fault. */
export type Problem = {
  type: string;
  title: string;
  status: number;
  detail: string;
  code: ProblemCode;
  errors: readonly FieldError[];
  /** The entry that stands now, where the sender knew it otherwise. */
  current?: EntryNow;
};

const meanings: Record<ProblemCode, { status: number; title: string }> = {
  bad_request: { status: 400, title: 'The request could not be read' },
  signed_out: { status: 401, title: 'Sign in first; nothing was saved' },
  wrong_password: { status: 401, title: 'That does not fit' },
  forbidden: { status: 403, title: 'This is not open to you; nothing was saved' },
  prove_again: { status: 403, title: 'Give your password again' },
  other_author: { status: 403, title: 'Someone else is signed in here; nothing was saved' },
  not_found: { status: 404, title: 'Not found' },
  conflict: { status: 409, title: 'It does not fit what is already recorded' },
  too_large: { status: 413, title: 'The request is too large' },
  unsupported_media_type: { status: 415, title: 'Send JSON' },
  misdirected: { status: 421, title: 'This machine does not go by that name' },
  invalid: { status: 422, title: 'Some fields need another look' },
  too_many: { status: 429, title: 'Too many in a short time: wait a little' },
  internal: { status: 500, title: 'Something went wrong here; nothing was saved' },
  unavailable: { status: 503, title: 'The log cannot be reached just now; nothing was saved' },
  unanswered: { status: 503, title: 'The log did not answer: this may be saved or not' },
  storage_full: { status: 503, title: 'There is no room on the disk; nothing was saved' },
  read_only: { status: 503, title: 'The log can only be read just now; nothing was saved' },
  clock_invalid: { status: 503, title: "The server's clock is wrong; nothing was saved" },
};

const mostErrors = 20;
const retryAfterSeconds = 10;

export class RequestError extends Error {
  readonly code: ProblemCode;
  readonly errors: readonly FieldError[];
  /** How long to wait before the next attempt [s]. */
  readonly waitS: number | undefined;
  constructor(
    code: ProblemCode,
    message: string,
    { errors = [], waitS }: { errors?: readonly FieldError[]; waitS?: number } = {},
  ) {
    super(message);
    this.name = 'RequestError';
    this.code = code;
    this.errors = errors;
    this.waitS = waitS;
  }
}

/** The one place where an error becomes an answer. */
export function problemOf(thrown: unknown): Problem {
  const error = domainErrorIn(thrown) ?? thrown;
  if (error instanceof StaleEntry)
    return { ...problem(error.code, error.message), current: error.current };
  if (error instanceof DomainError) return problem(error.code, error.message, error.errors);
  if (error instanceof RequestError) return problem(error.code, error.message, error.errors);
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
  const waitS = waitOf(error, body.status);
  if (body.code === 'internal') console.error(error);
  return new Response(JSON.stringify(body), {
    status: body.status,
    headers: {
      'content-type': 'application/problem+json; charset=utf-8',
      ...(waitS === undefined ? {} : { 'retry-after': String(waitS) }),
    },
  });
}

function waitOf(error: unknown, status: number): number | undefined {
  if (error instanceof RequestError && error.waitS !== undefined) return error.waitS;
  return status === 503 ? retryAfterSeconds : undefined;
}

export const problemList = Object.entries(meanings).map(([code, meaning]) => ({
  code,
  ...meaning,
}));
