/**
 * Reads a clean QR code, versions 1 to 10 at level Q, written from ISO/IEC 18004:2015 (from
 * memory): format information 7.9, masks table 10, blocks table 9, placement 7.7.3, modes 7.4.
 * It repairs nothing, so every module must be right.
 */
export function decodeQr(modules: readonly (readonly boolean[])[]): {
  text: string;
  level: string;
} {
  const size = modules.length;
  const version = (size - 17) / 4;
  const { level, mask } = formatOf(modules);
  const bits = dataBits(modules, version, mask);
  return { text: textOf(inOrder(bytesOf(bits), version), version), level };
}

type Modules = readonly (readonly boolean[])[];
const at = (modules: Modules, row: number, column: number) => modules[row]?.[column] === true;

function formatOf(modules: Modules): { level: string; mask: number } {
  const places = [
    ...[0, 1, 2, 3, 4, 5, 7, 8].map((column) => [8, column] as const),
    ...[7, 5, 4, 3, 2, 1, 0].map((row) => [row, 8] as const),
  ];
  const read = places.reduce((sum, [row, column]) => 2 * sum + Number(at(modules, row, column)), 0);
  const format = (read ^ 0b101010000010010) >> 10;
  return { level: ['M', 'L', 'H', 'Q'][format >> 3] ?? '', mask: format & 7 };
}

const masks: readonly ((row: number, column: number) => boolean)[] = [
  (i, j) => (i + j) % 2 === 0,
  (i) => i % 2 === 0,
  (_i, j) => j % 3 === 0,
  (i, j) => (i + j) % 3 === 0,
  (i, j) => (Math.floor(i / 2) + Math.floor(j / 3)) % 2 === 0,
  (i, j) => ((i * j) % 2) + ((i * j) % 3) === 0,
  (i, j) => (((i * j) % 2) + ((i * j) % 3)) % 2 === 0,
  (i, j) => (((i + j) % 2) + ((i * j) % 3)) % 2 === 0,
];

const alignment: Record<number, readonly number[]> = {
  1: [],
  2: [6, 18],
  3: [6, 22],
  4: [6, 26],
  5: [6, 30],
  6: [6, 34],
  7: [6, 22, 38],
  8: [6, 24, 42],
  9: [6, 26, 46],
  10: [6, 28, 50],
};

function isFunction(row: number, column: number, size: number, version: number): boolean {
  const isFinder =
    (row < 9 && column < 9) || (row < 9 && column >= size - 8) || (row >= size - 8 && column < 9);
  const isVersion =
    version >= 7 && ((row < 6 && column >= size - 11) || (column < 6 && row >= size - 11));
  return (
    isFinder || isVersion || row === 6 || column === 6 || isAligned(row, column, size, version)
  );
}

function isAligned(row: number, column: number, size: number, version: number): boolean {
  const centres = alignment[version] ?? [];
  return centres.some((i) =>
    centres.some((j) => {
      const isAtFinder = (i === 6 && (j === 6 || j === size - 7)) || (j === 6 && i === size - 7);
      return !isAtFinder && Math.abs(row - i) <= 2 && Math.abs(column - j) <= 2;
    }),
  );
}

/** Two columns at a time from the right, up and down in turn, past the upright timing line. */
function dataBits(modules: Modules, version: number, mask: number): boolean[] {
  const size = modules.length;
  const bits: boolean[] = [];
  let isUp = true;
  for (let right = size - 1; right > 0; right -= 2) {
    if (right === 6) right = 5;
    for (let step = 0; step < size; step += 1) {
      const row = isUp ? size - 1 - step : step;
      for (const column of [right, right - 1])
        if (!isFunction(row, column, size, version))
          bits.push(at(modules, row, column) !== (masks[mask]?.(row, column) ?? false));
    }
    isUp = !isUp;
  }
  return bits;
}

function bytesOf(bits: readonly boolean[]): number[] {
  const whole = Math.floor(bits.length / 8);
  return Array.from({ length: whole }, (_, index) =>
    bits.slice(8 * index, 8 * index + 8).reduce((sum, bit) => 2 * sum + Number(bit), 0),
  );
}

/** Data codewords of each block at level Q. */
const blocksOf: Record<number, readonly number[]> = {
  1: [13],
  2: [22],
  3: [17, 17],
  4: [24, 24],
  5: [15, 15, 16, 16],
  6: [19, 19, 19, 19],
  7: [14, 14, 15, 15, 15, 15],
  8: [18, 18, 18, 18, 19, 19],
  9: [16, 16, 16, 16, 17, 17, 17, 17],
  10: [19, 19, 19, 19, 19, 19, 20, 20],
};

/** The codewords block by block, as they were before they were interleaved. */
function inOrder(codewords: readonly number[], version: number): number[] {
  const lengths = blocksOf[version] ?? [];
  const blocks: number[][] = lengths.map(() => []);
  let next = 0;
  for (let place = 0; place < Math.max(...lengths); place += 1)
    for (const [index, block] of blocks.entries()) {
      if (place >= (lengths[index] ?? 0)) continue;
      block.push(codewords[next] ?? 0);
      next += 1;
    }
  return blocks.flat();
}

const letters = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:';

function textOf(bytes: readonly number[], version: number): string {
  let place = 0;
  const take = (bits: number): number => {
    let value = 0;
    for (let bit = 0; bit < bits; bit += 1, place += 1)
      value = 2 * value + (((bytes[place >> 3] ?? 0) >> (7 - (place & 7))) & 1);
    return value;
  };
  const isLong = version >= 10;
  const parts: string[] = [];
  while (place + 4 <= 8 * bytes.length) {
    const mode = take(4);
    if (mode === 0) break;
    if (mode === 1) parts.push(numeric(take, take(isLong ? 12 : 10)));
    else if (mode === 2) parts.push(alphanumeric(take, take(isLong ? 11 : 9)));
    else if (mode === 4) {
      const length = take(isLong ? 16 : 8);
      parts.push(Buffer.from(Array.from({ length }, () => take(8))).toString('utf8'));
    } else throw new Error(`The code holds mode ${mode}, which is not read here.`);
  }
  return parts.join('');
}

function numeric(take: (bits: number) => number, length: number): string {
  let text = '';
  for (let left = length; left > 0; left -= 3) {
    const digits = Math.min(3, left);
    text += String(take([0, 4, 7, 10][digits] ?? 0)).padStart(digits, '0');
  }
  return text;
}

function alphanumeric(take: (bits: number) => number, length: number): string {
  let text = '';
  for (let left = length; left > 0; left -= 2) {
    if (left === 1) return text + letters.charAt(take(6));
    const pair = take(11);
    text += letters.charAt(Math.floor(pair / 45)) + letters.charAt(pair % 45);
  }
  return text;
}
