import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
const importOf = /(?:^|\n)\s*(?:import|export)\s+(type\s+)?(?:[^'"]*?\sfrom\s+)?['"]([^'"]+)['"]/g;

type Import = { file: string; isType: boolean; from: string };

function filesIn(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name) && !name.startsWith(`dist${sep}`))
    .map((name) => join(folder, name));
}

function importsIn(folder: string): Import[] {
  return filesIn(folder).flatMap((file) => {
    const text = readFileSync(join(root, file), 'utf8');
    return [...text.matchAll(importOf)].map(([, type, from]) => ({
      file,
      isType: type !== undefined,
      from: from?.startsWith('.') ? relative(root, join(root, file, '..', from)) : (from ?? ''),
    }));
  });
}

const inside =
  (...folders: string[]) =>
  (from: string) =>
    folders.some((folder) => from.startsWith(`#${folder}/`) || from.startsWith(`${folder}/`));
const packages =
  (...names: string[]) =>
  (from: string) =>
    names.some((name) => from === name || from.startsWith(`${name}/`));

const allowed: Record<string, ((from: string) => boolean)[]> = {
  'shared/science': [inside('shared/science'), (from) => from === '#shared/errors.ts'],
  shared: [inside('shared'), packages('zod')],
  db: [
    inside('db', 'shared'),
    packages('drizzle-orm', '@libsql/client'),
    (from) => from.startsWith('node:'),
  ],
  api: [
    inside('api', 'db', 'shared'),
    packages('hono', '@hono/node-server', 'zod', '@node-rs/argon2', '@zxcvbn-ts', 'ical-generator'),
    packages('csv-parse'),
    (from) => from.startsWith('node:'),
  ],
};

test.each(Object.keys(allowed))('%s/ imports only what it may', (folder) => {
  const imports = importsIn(folder);
  expect(imports.length).toBeGreaterThan(10);
  const rules = allowed[folder] ?? [];
  expect(imports.filter(({ from }) => !rules.some((rule) => rule(from)))).toEqual([]);
});

test('web/ knows shared/, and the api only as types in one file', () => {
  const imports = importsIn('web');
  expect(imports.length).toBeGreaterThan(50);
  const mayImport = [
    inside('web', 'shared'),
    packages('preact', '@preact/signals', 'preact-iso', 'chart.js', 'idb', 'lean-qr', 'vite'),
  ];
  const wrong = imports.filter(({ file, isType, from }) => {
    if (inside('api')(from)) return !(isType && file === join('web', 'server.ts'));
    // Building is done by node, not by the page.
    if (file === join('web', 'vite.config.ts') && from.startsWith('node:')) return false;
    if (from === 'hono/client') return file !== join('web', 'server.ts');
    if (packages('chart.js')(from))
      return !(
        file === join('web', 'components', 'frame', 'Chart.tsx') ||
        file.startsWith(join('web', 'charts'))
      );
    return !mayImport.some((rule) => rule(from));
  });
  expect(wrong).toEqual([]);
});

test('only db/opening/openFile.ts and db/remote open the log, and nothing writes past its queue', () => {
  const opening = importsIn('db').filter(
    ({ from, isType }) => from === '@libsql/client' && !isType,
  );
  // The others look at a closed file, hold the lock beside it, or name the driver's errors.
  expect(opening.map(({ file }) => file).sort()).toEqual(
    [
      'databaseRefusal',
      'opening/instanceLock',
      'opening/openFile',
      'opening/stopRules',
      'remote/openRemote',
      'remote/sendOnce',
      'remote/turns',
      'safety/inspect',
      'safety/inspectShape',
    ].map((name) => join('db', `${name}.ts`)),
  );
  for (const folder of ['db', 'api'])
    for (const file of filesIn(folder))
      expect(readFileSync(join(root, file), 'utf8'), file).not.toMatch(
        /\.transaction\(|query\.batch\(|db\.batch\(|executeMultiple\(/,
      );
});

test('SQL is written in db/ alone', () => {
  const sql = /['"`]\s*(SELECT|INSERT INTO|UPDATE|DELETE FROM|PRAGMA) \w/;
  const wrong = ['shared', 'api', 'web']
    .flatMap(filesIn)
    .filter((file) => sql.test(readFileSync(join(root, file), 'utf8')));
  expect(wrong).toEqual([]);
});

test('nothing opens the file of a running log but the engine: that would give up its lock', () => {
  const opening =
    /\b(readFile|readFileSync|copyFile|copyFileSync|createReadStream|open|openSync)\(/;
  const openers = filesIn('db')
    .concat(filesIn('api'))
    .filter((file) => opening.test(readFileSync(join(root, file), 'utf8')));
  // A server's token, the marker, migrations, manifests, mirrors and finished copies; the list of
  // mounts; and the header of a closed file.
  expect(openers.sort()).toEqual([
    join('api', 'databaseAddress.ts'),
    ...[
      'migrate.ts',
      'opening/marker.ts',
      'opening/networkShare.ts',
      'safety/backup.ts',
      'safety/inspect.ts',
      'safety/mirror.ts',
      'safety/safeFiles.ts',
    ].map((name) => join('db', name)),
  ]);
});

test('an empty box is never read as a number, a date or a yes', () => {
  for (const folder of ['shared', 'api', 'db', 'web'])
    for (const file of filesIn(folder))
      expect(readFileSync(join(root, file), 'utf8'), file).not.toMatch(/z\.coerce/);
});

test('every source named in a docstring of shared/science is written out once', () => {
  const references = readFileSync(join(root, 'shared/science/REFERENCES.md'), 'utf8');
  const keys = new Set<string>();
  for (const name of readdirSync(join(root, 'shared/science')).filter((each) =>
    each.endsWith('.ts'),
  )) {
    const text = readFileSync(join(root, 'shared/science', name), 'utf8');
    for (const [, key] of text.matchAll(
      /\[([A-Z][A-Za-z]*-?[A-Za-z]*\d{2,4}|MS-[a-z]+|BQ01|Q17)\]/g,
    ))
      if (key !== undefined) keys.add(key);
  }
  expect(keys.size).toBeGreaterThan(5);
  expect([...keys].filter((key) => !references.includes(`[${key}]`))).toEqual([]);
});
