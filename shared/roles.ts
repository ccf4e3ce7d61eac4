/** What a person may be; several at once, and each may read everything. */
export const roles = ['viewer', 'cellar', 'lab', 'brewer', 'head'] as const;
export type Role = (typeof roles)[number];
