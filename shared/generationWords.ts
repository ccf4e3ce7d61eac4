/**
 * A generation said so that it is the same however the brewery numbers its fresh culture.
 *
 * @param generation  as it is kept, 0 for a fresh culture
 * @returns "8 generations from fresh"; "fresh culture" for 0
 */
export function fromFresh(generation: number): string {
  if (generation === 0) return 'fresh culture';
  return `${generation} ${generation === 1 ? 'generation' : 'generations'} from fresh`;
}
