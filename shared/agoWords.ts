/** "just now", "20 min ago", "5 h ago": how long since something, where only hours matter [h]. */
export function agoWords(hours: number): string {
  const minutes = Math.round(60 * hours);
  if (minutes < 1) return 'just now';
  return minutes < 60 ? `${minutes} min ago` : `${Math.round(hours)} h ago`;
}
