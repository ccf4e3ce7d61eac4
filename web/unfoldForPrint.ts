const folded = 'details:not([open], .folded-on-paper, .job)';

/** Paper cannot be opened: what is folded lies open while the page is printed, and is as before after. */
export function unfoldForPrint(): void {
  let unfolded: HTMLDetailsElement[] = [];
  addEventListener('beforeprint', () => {
    unfolded = [...document.querySelectorAll<HTMLDetailsElement>(folded)];
    for (const details of unfolded) details.open = true;
  });
  addEventListener('afterprint', () => {
    for (const details of unfolded) details.open = false;
    unfolded = [];
  });
}
