import { RequestError } from './problem.ts';

const mostDepth = 12;
const mostNodes = 5_000;

/**
 * Looks a JSON text over in one pass before it is parsed: something very deep can block the process
 * or overflow its stack, and of a key given twice the parser would drop the first without a word.
 * @throws RequestError `bad_request`
 */
export function inspectShape(text: string): void {
  // For each object open: the keys it has so far; for each list: nothing.
  const open: (Set<string> | undefined)[] = [];
  let nodes = 0;
  let isKeyNext = false;
  for (let index = 0; index < text.length; index += 1) {
    const character = text[index];
    if (character === '"') {
      const end = endOfString(text, index);
      if (isKeyNext) takeKey(open.at(-1), text.slice(index, end + 1));
      isKeyNext = false;
      index = end;
    } else if (character === '{' || character === '[') {
      open.push(character === '{' ? new Set() : undefined);
      isKeyNext = character === '{';
    } else if (character === '}' || character === ']') {
      open.pop();
      isKeyNext = false;
    } else if (character === ',') isKeyNext = open.at(-1) !== undefined;
    else continue;
    nodes += 1;
    if (open.length > mostDepth || nodes > mostNodes)
      throw new RequestError('bad_request', 'The body is nested too deep or holds too much.');
  }
}

function endOfString(text: string, start: number): number {
  let index = start + 1;
  while (index < text.length && text[index] !== '"') index += text[index] === '\\' ? 2 : 1;
  return index;
}

function takeKey(keys: Set<string> | undefined, quoted: string): void {
  const key = keyOf(quoted);
  if (key === '__proto__' || keys?.has(key))
    throw new RequestError('bad_request', 'A key of the body is given twice, or is no key at all.');
  keys?.add(key);
}

function keyOf(quoted: string): string {
  try {
    return String(JSON.parse(quoted));
  } catch {
    throw new RequestError('bad_request', 'The body is not valid JSON.');
  }
}
