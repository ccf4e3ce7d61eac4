import type { Context } from 'hono';
import { inspectShape } from './jsonShape.ts';
import { RequestError } from './problem.ts';

export const bodyLimitBytes = 64 * 1024;

declare module 'hono' {
  interface ContextVariableMap {
    body: Promise<unknown> | undefined;
  }
}

/** The JSON body of a request, read once however many ask for it. */
export function bodyOf(context: Context, limitBytes = bodyLimitBytes): Promise<unknown> {
  const body = context.get('body') ?? readJson(context.req.raw, limitBytes);
  context.set('body', body);
  return body;
}

/** Reads a JSON body strictly: its type, its size, its encoding and its depth are all checked. */
async function readJson(request: Request, limitBytes: number): Promise<unknown> {
  const type = request.headers.get('content-type') ?? '';
  if (!/^application\/json(\s*;\s*charset=utf-8)?$/i.test(type.trim()))
    throw new RequestError('unsupported_media_type', 'The content type must be application/json.');
  if (request.headers.has('content-encoding'))
    throw new RequestError('unsupported_media_type', 'The body must not be compressed.');
  const text = decoded(await limitedBytes(request, limitBytes));
  inspectShape(text);
  try {
    return JSON.parse(text);
  } catch {
    throw new RequestError('bad_request', 'The body is not valid JSON.');
  }
}

async function limitedBytes(request: Request, limitBytes: number): Promise<Uint8Array> {
  const tooLarge = () =>
    new RequestError('too_large', `The body may hold ${limitBytes} bytes at most.`);
  const told = request.headers.get('content-length');
  if (Number(told ?? 0) > limitBytes) throw tooLarge();
  if (told !== null) {
    // The server takes no more than was told, and as a whole it is read faster than in parts.
    const bytes = new Uint8Array(await request.arrayBuffer());
    if (bytes.byteLength > limitBytes) throw tooLarge();
    return bytes;
  }
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const part of request.body ?? []) {
    size += part.byteLength;
    if (size > limitBytes) throw tooLarge();
    parts.push(part);
  }
  return Buffer.concat(parts);
}

function decoded(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new RequestError('bad_request', 'The body is not valid UTF-8.');
  }
}
