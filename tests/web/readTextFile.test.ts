import { expect, test } from 'vitest';
import { readTextFile } from '../../web/components/setup/readTextFile.ts';

const file = (...bytes: number[]) => new Blob([Uint8Array.from(bytes)]);

// "°C" as each program writes it: UTF-8 (RFC 3629), Windows code page 1252, UTF-16 with its mark.
test('readTextFile(file) reads a degree sign however it was saved', async () => {
  expect(await readTextFile(file(0xc2, 0xb0, 0x43))).toBe('°C');
  expect(await readTextFile(file(0xb0, 0x43))).toBe('°C');
  expect(await readTextFile(file(0xff, 0xfe, 0xb0, 0x00, 0x43, 0x00))).toBe('°C');
  expect(await readTextFile(file(0xfe, 0xff, 0x00, 0xb0, 0x00, 0x43))).toBe('°C');
});
