import { DomainError } from '#shared/errors.ts';

/** The database server did not do what it was asked, or did not say whether it did. */
export class ServerFault extends DomainError {
  /** False when it is not known whether the request was carried out. */
  readonly isUndone: boolean;
  /** Whether the same request would be refused again. */
  readonly isLasting: boolean;
  constructor(
    message: string,
    {
      isUndone,
      isLasting = false,
      cause,
    }: { isUndone: boolean; isLasting?: boolean; cause?: unknown },
  ) {
    super('unavailable', message);
    this.name = 'ServerFault';
    this.isUndone = isUndone;
    this.isLasting = isLasting;
    this.cause = cause;
  }
}

type Limits = {
  /** For all tries together [ms]. */
  withinMs: number;
  /** More than one for requests that only read. */
  tries: number;
  /** Told of every request: how it failed, or undefined when it was answered. */
  report: (fault: ServerFault | undefined) => void;
};

const pauseMs = (tries: number) => 50 * 4 ** (tries - 1) * (0.5 + Math.random());

/**
 * A `fetch` for the driver, which has no time limit of its own.
 * @throws ServerFault in place of an answer that carries no result
 */
export function remoteFetch({ withinMs, tries, report }: Limits) {
  return async (request: Request): Promise<Response> => {
    const body = await request.text();
    const signal = AbortSignal.timeout(withinMs);
    for (let tried = 1; ; tried += 1) {
      const answer = await asked(request, body, signal);
      if (!(answer instanceof ServerFault)) {
        report(undefined);
        return answer;
      }
      if (tried === tries || signal.aborted || answer.isLasting) {
        report(answer);
        throw answer;
      }
      await new Promise((resolve) => setTimeout(resolve, pauseMs(tried)));
    }
  };
}

async function asked(
  { url, headers }: Request,
  body: string,
  signal: AbortSignal,
): Promise<Response | ServerFault> {
  try {
    // A redirect could carry the token elsewhere.
    const response = await fetch(url, { method: 'POST', headers, body, signal, redirect: 'error' });
    const text = await response.text();
    const { status } = response;
    return faultOfStatus(status, body) ?? new Response(text, { status, headers: response.headers });
  } catch (cause) {
    return faultOfConnection(cause, signal.aborted);
  }
}

function faultOfStatus(status: number, body: string): ServerFault | undefined {
  if (status === 401 || status === 403)
    return new ServerFault('The database server does not accept the token.', { isUndone: true });
  if (status === 404)
    return new ServerFault('There is no database at the address of the server.', {
      isUndone: true,
    });
  if (status === 413)
    return new ServerFault(
      `The database server takes no request of ${Math.ceil(Buffer.byteLength(body) / 1024)} kB; nothing was saved. Raise its limit for the size of a request.`,
      { isUndone: true, isLasting: true },
    );
  if (status === 429)
    return new ServerFault('The database server has too much to do.', { isUndone: true });
  return status >= 500
    ? new ServerFault(`The database server failed (HTTP ${status}).`, { isUndone: false })
    : undefined;
}

// Nothing was sent when no connection came about.
const neverConnected =
  /^(ECONNREFUSED|ENOTFOUND|EAI_AGAIN|EHOSTUNREACH|ENETUNREACH|UND_ERR_CONNECT_TIMEOUT|ERR_TLS|ERR_SSL|CERT_|DEPTH_ZERO|SELF_SIGNED|UNABLE_TO)/;

function faultOfConnection(cause: unknown, isLate: boolean): ServerFault {
  if (isLate)
    return new ServerFault('The database server did not answer in time.', {
      isUndone: false,
      cause,
    });
  const inner = cause instanceof Error ? cause.cause : undefined;
  const code = inner instanceof Error && 'code' in inner ? String(inner.code) : '';
  return neverConnected.test(code)
    ? new ServerFault(`The database server cannot be reached (${code}).`, { isUndone: true, cause })
    : new ServerFault('The connection to the database server broke.', { isUndone: false, cause });
}
