import type { Layout, Place } from '#shared/lineage/layout.ts';

const width = 172;
const height = 62;
const gapX = 46;
const gapY = 16;
const margin = 10;

/** Where the box of a place stands in the drawing. */
export const boxAt = ({ column, row }: Place) => ({
  x: margin + column * (width + gapX),
  y: margin + row * (height + gapY),
  width,
  height,
});

/** How large the drawing is. */
export const boxSize = ({ columns, rows }: Layout) => ({
  width: 2 * margin + Math.max(1, columns) * (width + gapX) - gapX,
  height: 2 * margin + Math.max(1, rows) * (height + gapY) - gapY,
});

export const boxWidth = width;
export const boxHeight = height;
