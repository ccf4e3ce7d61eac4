import type { ComponentChildren } from 'preact';

export type Column<T> = {
  head: string;
  cell: (row: T) => ComponentChildren;
  /** Figures stand to the right, in columns. */
  numeric?: boolean;
  /** The cell that names its row. */
  names?: boolean;
  /** Sentences: on a phone they take the whole width. */
  wordy?: boolean;
  /** Says itself what it is: on a phone its head is not written above it in every row. */
  plain?: boolean;
  /** Holds only what is pressed: there is nothing of it on paper. */
  pressed?: boolean;
};

type Props<T> = {
  /** Read out, and shown unless `quiet`. */
  caption: string;
  quiet?: boolean;
  columns: readonly Column<T>[];
  rows: readonly T[];
  keyOf: (row: T) => string;
  /** Struck through, as a corrected line of a ledger. */
  struck?: (row: T) => boolean;
  empty?: ComponentChildren;
  /** A list that grows for ever shows its first so many rows; the rest is folded behind them. */
  atFirst?: number;
};

/** More columns than this do not stand side by side on a phone: each row is then a little list. */
const mostBeside = 3;

/** With more than these the heads are broken over two lines so that all stand on a screen. */
const mostOnALine = 5;

type CellLook = Pick<Column<unknown>, 'numeric' | 'wordy' | 'pressed'>;

function cellLook({ numeric, wordy, pressed }: { [K in keyof CellLook]: boolean | undefined }) {
  if (pressed) return 'not-printed';
  return numeric ? 'numeric' : wordy ? 'wordy' : undefined;
}

function look(columns: number): string {
  if (columns <= mostBeside) return 'ruled';
  return columns > mostOnALine ? 'ruled stacks tight' : 'ruled stacks';
}

/** A ledger page: hairlines between rows, a double rule at the foot; scrolls in its own box. */
export function RuledTable<T>({ rows, empty, atFirst = rows.length, ...table }: Props<T>) {
  if (rows.length === 0 && empty !== undefined) return <p class="empty">{empty}</p>;
  const rest = rows.slice(atFirst);
  return (
    <>
      <Ruled {...table} rows={rows.slice(0, atFirst)} />
      {rest.length > 0 && (
        <details class="fold">
          <summary>
            {table.caption}: {rest.length} more
          </summary>
          <Ruled {...table} quiet caption={`${table.caption}, the rest`} rows={rest} />
        </details>
      )}
    </>
  );
}

function Ruled<T>({
  caption,
  quiet,
  columns,
  rows,
  keyOf,
  struck,
}: Omit<Props<T>, 'empty' | 'atFirst'>) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by key
    <section class="table-box" tabIndex={0} aria-label={caption}>
      <table class={look(columns.length)}>
        <caption class={quiet ? 'unseen' : undefined}>{caption}</caption>
        <thead>
          <tr>
            {columns.map(({ head, numeric, pressed }) => (
              <th key={head} scope="col" class={cellLook({ numeric, pressed })}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={keyOf(row)} class={struck?.(row) ? 'struck' : undefined}>
              {columns.map(({ head, cell, names, plain, ...look }) =>
                names ? (
                  <th key={head} scope="row">
                    {cell(row)}
                  </th>
                ) : (
                  <td key={head} data-head={plain ? undefined : head} class={cellLook(look)}>
                    {cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
