import fc from 'fast-check';
import type { JsonSchema } from '#api/apiDocument.ts';

const uuidPattern = /^\^\[0-9a-f\]\{8\}/;

/** Bodies a JSON schema allows, as the document of a route gives it. */
export function fromSchema(schema: JsonSchema): fc.Arbitrary<unknown> {
  const options = listOf(schema.oneOf ?? schema.anyOf);
  if (options.length > 0) return fc.oneof(...options.map(fromSchema));
  if ('const' in schema) return fc.constant(schema.const);
  if (Array.isArray(schema.enum)) return fc.constantFrom(...schema.enum);
  switch (schema.type) {
    case 'object':
      return objectOf(schema);
    case 'array':
      return fc.array(fromSchema(schemaOf(schema.items)), {
        minLength: numberOf(schema.minItems, 0),
        maxLength: Math.min(numberOf(schema.maxItems, 5), 5),
      });
    case 'string':
      return stringOf(schema);
    case 'integer':
    case 'number':
      return quantityOf(schema);
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    default:
      return fc.jsonValue({ maxDepth: 1 });
  }
}

/** What must be true of a field and no JSON schema can say. */
const unspoken: Record<string, fc.Arbitrary<unknown>> = {
  timeZone: fc.constantFrom('Europe/London', 'UTC'),
};

function objectOf(schema: JsonSchema): fc.Arbitrary<unknown> {
  const properties = Object.entries(schemaOf(schema.properties));
  if (properties.length === 0) return fc.constant({});
  const required = listOf<string>(schema.required);
  const whole = fc.record(
    Object.fromEntries(
      properties.map(([name, part]) => [name, unspoken[name] ?? fromSchema(schemaOf(part))]),
    ),
    { requiredKeys: required.filter((name) => properties.some(([known]) => known === name)) },
  );
  return fc
    .tuple(whole, fc.nat({ max: 9 }))
    .map(([body, chance]) => (chance === 0 ? body : without(rare, body)));
}

/** Fields that ask for others beside them; with them in every second body hardly one would do. */
const rare = ['supersedes', 'reason', 'importId', 'override'];
const without = (names: readonly string[], body: object) =>
  Object.fromEntries(Object.entries(body).filter(([name]) => !names.includes(name)));

function stringOf(schema: JsonSchema): fc.Arbitrary<string> {
  const { format, pattern } = schema;
  const maxLength = Math.min(numberOf(schema.maxLength, 60), 60);
  if (format === 'date-time')
    return fc
      .integer({ min: Date.UTC(2026, 0, 1), max: Date.UTC(2026, 2, 2, 8) })
      .map((ms) => new Date(ms).toISOString());
  if (format === 'date')
    return fc
      .integer({ min: Date.UTC(2026, 0, 1), max: Date.UTC(2026, 11, 31) })
      .map((ms) => new Date(ms).toISOString().slice(0, 10));
  if (typeof pattern === 'string')
    return uuidPattern.test(pattern)
      ? fc.uuid({ version: 7 })
      : fc.stringMatching(new RegExp(pattern), { size: 'xsmall' });
  return fc.string({
    minLength: numberOf(schema.minLength, 1),
    maxLength,
    unit: 'grapheme',
  });
}

function quantityOf(schema: JsonSchema): fc.Arbitrary<number> {
  const min = numberOf(schema.minimum, numberOf(schema.exclusiveMinimum, -1000));
  const max = numberOf(schema.maximum, 1e6);
  if (schema.type === 'integer') return fc.integer({ min, max: Math.min(max, 1e9) });
  return fc.double({ min, max, noNaN: true, minExcluded: 'exclusiveMinimum' in schema });
}

const listOf = <T = JsonSchema>(value: unknown): T[] => (Array.isArray(value) ? value : []);
const numberOf = (value: unknown, otherwise: number) =>
  typeof value === 'number' ? value : otherwise;
const schemaOf = (value: unknown): JsonSchema =>
  typeof value === 'object' && value !== null ? Object.fromEntries(Object.entries(value)) : {};

/** What no schema allows, or only just: put in the place of any value of a body. */
export const hostileValues: readonly unknown[] = [
  null,
  '',
  '   ',
  'a\u0000b',
  'a\ud800b',
  '\u202Eexe',
  '=1+1',
  'x'.repeat(5_000),
  '<img src=x onerror=alert(1)>',
  "'; DROP TABLE journal; --",
  -1,
  -0,
  0.1 + 0.2,
  2 ** 53 + 1,
  Number.MAX_VALUE,
  1e-320,
  true,
  [],
  {},
  [[[[]]]],
  { constructor: { prototype: 1 } },
  'NaN',
  '12',
];

/** A body with one of its values, at any depth, replaced, left out, or joined by another. */
export function mutated(body: unknown): fc.Arbitrary<unknown> {
  const places = placesIn(body);
  const place = fc.constantFrom(...places);
  return fc.oneof(
    fc
      .tuple(place, fc.constantFrom(...hostileValues))
      .map(([path, value]) => withValue(body, path, value)),
    place.map((path) => withValue(body, path, undefined)),
    fc.constant(
      typeof body === 'object' && !Array.isArray(body) ? { ...body, surplus: 1 } : [body],
    ),
  );
}

type Path = readonly (string | number)[];

function placesIn(value: unknown, path: Path = []): Path[] {
  if (Array.isArray(value))
    return [path, ...value.flatMap((part, at) => placesIn(part, [...path, at]))];
  if (typeof value === 'object' && value !== null)
    return [
      path,
      ...Object.entries(value).flatMap(([name, part]) => placesIn(part, [...path, name])),
    ];
  return [path];
}

function withValue(value: unknown, [first, ...rest]: Path, replaced: unknown): unknown {
  if (first === undefined) return replaced;
  if (Array.isArray(value))
    return value.map((part, at) => (at === first ? withValue(part, rest, replaced) : part));
  return Object.fromEntries(
    Object.entries(schemaOf(value)).map(([name, part]) => [
      name,
      name === first ? withValue(part, rest, replaced) : part,
    ]),
  );
}
