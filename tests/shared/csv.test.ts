import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { csvFile, csvLine, unguarded } from '#shared/csv.ts';

test('a line keeps numbers bare and quotes every text (RFC 4180, section 2)', () => {
  expect(csvLine(['TN-412A', 12.5, -0.5, 'he said "thick"', null])).toBe(
    '"TN-412A",12.5,-0.5,"he said ""thick""",\r\n',
  );
});

// The prefixes named by OWASP, CSV Injection; from memory.
test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', '＝1', '＋1', '－1', '＠a'])(
  'a text like %j is not run by a spreadsheet',
  (text) => {
    expect(csvLine([text]).startsWith(`"'`)).toBe(true);
  },
);

const risky = fc.stringMatching(/^'{0,2}[=+@a-]{0,2}[a-z"]{0,3}$/);

test('what is written is read back by a general CSV reader', () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.string(), risky, fc.integer()), { maxLength: 20 }), (rows) => {
      const read: string[][] = parse(csvFile(['a', 'b', 'c'], rows), { bom: true });
      expect(read.slice(1).map((row) => row.map(unguarded))).toEqual(
        rows.map(([a, b, c]) => [a, b, String(c)]),
      );
    }),
  );
});
