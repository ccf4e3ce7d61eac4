import { expect, test } from 'vitest';
import {
  addressProblem,
  isLoopback,
  lotAddress,
  lotOfAddress,
} from '../../web/components/labels/labelAddress.ts';
import { labelPlaces, labelSizes } from '../../web/components/labels/labelSizes.ts';
import { qrDrawing } from '../../web/components/labels/qrPath.ts';
import { decodeQr } from '../support/decodeQr.ts';

const lotId = '0195502c-0000-7000-8000-000000000001';

test('an address that only this computer knows is told from one that phones reach', () => {
  for (const address of ['http://localhost:4180', 'http://127.0.0.1', 'http://[::1]:4180'])
    expect(isLoopback(address), address).toBe(true);
  for (const address of ['http://192.168.1.20:4180', 'https://barm.example'])
    expect(isLoopback(address), address).toBe(false);
});

test('a label leads to its lot at the address given, else where the page is', () => {
  expect(lotAddress(lotId, 'https://barm.example', '')).toBe(`https://barm.example/yeast/${lotId}`);
  expect(lotAddress(lotId, 'http://127.0.0.1:4180', 'http://192.168.1.20:4180/')).toBe(
    `http://192.168.1.20:4180/yeast/${lotId}`,
  );
  expect(addressProblem('192.168.1.20')).toMatch(/whole address/);
  expect(addressProblem('http://192.168.1.20:4180')).toBeUndefined();
});

test('a scanned label is a lot by its path, whatever host it was printed with', () => {
  expect(lotOfAddress(`http://10.0.0.4/yeast/${lotId}`)).toBe(lotId);
  expect(lotOfAddress('https://barm.example/yeast/new')).toBeUndefined();
  expect(lotOfAddress('not an address')).toBeUndefined();
});

test('the code on a label reads back as the address of its lot', () => {
  for (const host of ['https://barm.example', 'http://192.168.1.20:4180', 'https://a.bc']) {
    const address = `${host}/yeast/${lotId}`;
    expect(decodeQr(modulesOf(qrDrawing(address)))).toEqual({ text: address, level: 'Q' });
  }
});

/** The squares of the drawing, read back from its path as a printer would fill them. */
function modulesOf({ size, path }: { size: number; path: string }): boolean[][] {
  const modules = Array.from({ length: size }, () => Array.from({ length: size }, () => false));
  for (const [, x, y, width] of path.matchAll(/M(\d+) (\d+)h(\d+)/g))
    for (let step = 0; step < Number(width); step += 1) {
      const row = modules[Number(y)];
      if (row !== undefined) row[Number(x) + step] = true;
    }
  return modules;
}

test('a sheet begins at its first free label, a roll at once', () => {
  const [roll, , sheet] = labelSizes;
  expect(labelPlaces(sheet, { copies: 2, from: 3 })).toEqual(['blank', 'blank', 'label', 'label']);
  expect(labelPlaces(sheet, { copies: 1, from: 99 })).toHaveLength(24);
  expect(labelPlaces(roll, { copies: 2, from: 3 })).toEqual(['label', 'label']);
});
