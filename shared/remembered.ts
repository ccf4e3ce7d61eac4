/** A pure function that keeps its latest answers: the same question costs once, and never goes stale. */
export function remembered<Q, A>(answer: (question: Q) => A, most: number): (question: Q) => A {
  const kept = new Map<string, { answer: A }>();
  return (question) => {
    const key = typeof question === 'string' ? question : JSON.stringify(question);
    const known = kept.get(key);
    const entry = known ?? { answer: answer(question) };
    // Put back last, so that the first in the map is the one not asked for longest.
    if (known !== undefined) kept.delete(key);
    kept.set(key, entry);
    if (kept.size > most) {
      const [oldest] = kept.keys();
      if (oldest !== undefined) kept.delete(oldest);
    }
    return entry.answer;
  };
}
