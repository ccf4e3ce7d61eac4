/** The cask batches of a racking, as their column keeps them. */
export function batchesIn(json: string): string[] {
  const batches: unknown = JSON.parse(json);
  return Array.isArray(batches) ? batches.map(String) : [];
}
