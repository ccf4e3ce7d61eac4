import { RequestError } from './problem.ts';

const mostDepth = 12;
const mostNodes = 5_000;

export const bodyLimitBytes = 64 * 1024;

/** Reads a JSON body strictly: its type, its size, its encoding and its depth are all checked. */
export async function readJson(request: Request, limitBytes = bodyLimitBytes): Promise<unknown> {
  const type = request.headers.get('content-type') ?? '';
  if (!/^application\/json(\s*;\s*charset=utf-8)?$/i.test(type.trim()))
    throw new RequestError('unsupported_media_type', 'The content type must be application/json.');
  const text = decoded(await limitedBytes(request, limitBytes));
  measureNesting(text);
  try {
    return JSON.parse(text);
  } catch {
    throw new RequestError('bad_request', 'The body is not valid JSON.');
  }
}

async function limitedBytes(request: Request, limitBytes: number): Promise<Uint8Array> {
  const tooLarge = new RequestError('too_large', `The body may hold ${limitBytes} bytes at most.`);
  if (Number(request.headers.get('content-length') ?? 0) > limitBytes) throw tooLarge;
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const part of request.body ?? []) {
    size += part.byteLength;
    if (size > limitBytes) throw tooLarge;
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

// Parsing something very deep can block the process or overflow its stack, so look first.
function measureNesting(text: string): void {
  let depth = 0;
  let nodes = 0;
  let inString = false;
  for (let index = 0; index < text.length; index += 1) {
    const character = text[index];
    if (inString) {
      if (character === '\\') index += 1;
      else if (character === '"') inString = false;
      continue;
    }
    if (character === '"') inString = true;
    else if (character === '{' || character === '[') depth += 1;
    else if (character === '}' || character === ']') depth -= 1;
    else if (character !== ',') continue;
    nodes += 1;
    if (depth > mostDepth || nodes > mostNodes)
      throw new RequestError('bad_request', 'The body is nested too deep or holds too much.');
  }
}
