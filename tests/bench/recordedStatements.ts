import { createClient, type InStatement } from '@libsql/client';

type Recorded = { statement: InStatement; replay: () => Promise<unknown> };

/**
 * Notes every statement sent through the driver, so that the same ones can be sent again bare: the
 * least that any program reading this file through this driver would need.
 */
export function recordedStatements() {
  const probe = createClient({ url: ':memory:' });
  const prototype: { execute: (...input: never[]) => Promise<unknown> } =
    Object.getPrototypeOf(probe);
  probe.close();
  const plain = prototype.execute;
  let noted: Recorded[] | undefined;
  prototype.execute = function execute(this: unknown, ...input: never[]) {
    const [statement] = input;
    if (statement !== undefined) noted?.push({ statement, replay: () => plain.apply(this, input) });
    return plain.apply(this, input);
  };
  return {
    /** The statements that `work` sent. */
    during: async (work: () => Promise<unknown>): Promise<Recorded[]> => {
      noted = [];
      await work();
      const all = noted;
      noted = undefined;
      return all;
    },
  };
}
