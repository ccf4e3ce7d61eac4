/** To all that was ever written about a record which has no page of its own. */
export function HistoryLink({ id, of }: { id: string; of: string }) {
  return (
    <a class="history-link" href={`/records/${id}`}>
      History<span class="unseen"> of {of}</span>
    </a>
  );
}
