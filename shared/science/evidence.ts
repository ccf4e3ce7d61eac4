/** How a published figure came here: read at its source, read quoted, remembered, or worked out. */
const evidenceTags = ['published', 'second hand', 'from memory', 'derived'] as const;
export type Evidence = (typeof evidenceTags)[number];
