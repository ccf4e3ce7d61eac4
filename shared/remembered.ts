/** A pure function that keeps its latest answers: the same question costs once, and never goes stale. */
export function remembered<Q, A>(answer: (question: Q) => A, most: number): (question: Q) => A {
  const kept = new Map<string, { answer: A }>();
  return (question) => {
    const key = JSON.stringify(question);
    const entry = kept.get(key) ?? { answer: answer(question) };
    // Put back last, so that the first in the map is the one not asked for longest.
    kept.delete(key);
    kept.set(key, entry);
    const [oldest] = kept.keys();
    if (kept.size > most && oldest !== undefined) kept.delete(oldest);
    return entry.answer;
  };
}
