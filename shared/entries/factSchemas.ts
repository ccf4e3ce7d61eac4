import * as z from 'zod/mini';
import { type RecordKind, recordSchemas } from './entry.ts';
import { envelope } from './envelope.ts';

/** How a single fact is given: by a word of a list, a number, yes or no, or in words. */
type FactShape = { choices: readonly string[] } | 'number' | 'yes or no' | 'text';

/**
 * How the fact at a path of an entry is given, such as `fillings.0.dilutionFactor`; undefined for
 * what is no single fact: an id, a list, a group, or nothing of that name.
 */
export function factShape(kind: RecordKind, path: string): FactShape | undefined {
  let at: unknown = recordSchemas[kind];
  for (const name of path.split('.')) at = inside(at, name);
  return shapeOf(bare(at));
}

/** The facts an entry of this kind may do without, ids and the envelope aside. */
export function optionalFacts(kind: RecordKind): string[] {
  return Object.entries<unknown>(recordSchemas[kind].shape).flatMap(([name, schema]) =>
    schema instanceof z.ZodMiniOptional &&
    !(name in envelope) &&
    !name.endsWith('Id') &&
    shapeOf(bare(schema)) !== undefined
      ? [name]
      : [],
  );
}

const bare = (schema: unknown): unknown =>
  schema instanceof z.ZodMiniOptional ? schema.def.innerType : schema;

function inside(schema: unknown, name: string): unknown {
  const group = bare(schema);
  if (group instanceof z.ZodMiniObject) return Reflect.get(group.def.shape, name);
  return group instanceof z.ZodMiniArray ? group.def.element : undefined;
}

function shapeOf(schema: unknown): FactShape | undefined {
  if (schema instanceof z.ZodMiniEnum) return { choices: schema.options.map(String) };
  if (schema instanceof z.ZodMiniNumber) return 'number';
  if (schema instanceof z.ZodMiniBoolean) return 'yes or no';
  return schema instanceof z.ZodMiniString ? 'text' : undefined;
}
