/**
 * The text of a file as spreadsheets save it: by its mark where it has one, else UTF-8, and what is
 * no UTF-8 by the western code page of older programs, so that ° and £ come through.
 */
export async function readTextFile(file: Pick<Blob, 'arrayBuffer'>): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}
