import type { Layout } from '#shared/lineage/layout.ts';
import type { Edge } from '#shared/lineage/reach.ts';

type Drawing = { layout: Layout; edges: readonly Edge[]; start: string };

/** Where an arrow key leads from a record: along a step, or to the next one in its column. */
export function neighbourByKey(key: string, from: string, drawing: Drawing): string | undefined {
  const { layout, edges, start } = drawing;
  const here = layout.places.get(from);
  if (here === undefined) return undefined;
  const nearest = (ids: readonly string[]) =>
    ids.toSorted((a, b) => distance(layout, a, from) - distance(layout, b, from))[0];
  switch (key) {
    case 'ArrowRight':
      return nearest(edges.filter(({ parent }) => parent === from).map(({ child }) => child));
    case 'ArrowLeft':
      return nearest(edges.filter(({ child }) => child === from).map(({ parent }) => parent));
    case 'ArrowUp':
      return inColumn(layout, here.column, (row) => row < here.row).at(-1);
    case 'ArrowDown':
      return inColumn(layout, here.column, (row) => row > here.row)[0];
    case 'Home':
      return start;
    default:
      return undefined;
  }
}

function inColumn({ places }: Layout, column: number, isWanted: (row: number) => boolean) {
  return [...places]
    .filter(([, place]) => place.column === column && isWanted(place.row))
    .sort(([, a], [, b]) => a.row - b.row)
    .map(([id]) => id);
}

const distance = ({ places }: Layout, a: string, b: string) =>
  Math.abs((places.get(a)?.row ?? 0) - (places.get(b)?.row ?? 0));
