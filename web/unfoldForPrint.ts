/** Paper cannot be opened: whatever is folded lies open while the page is printed, and is as before after. */
export function unfoldForPrint(): void {
  let unfolded: HTMLDetailsElement[] = [];
  addEventListener('beforeprint', () => {
    unfolded = [...document.querySelectorAll<HTMLDetailsElement>('details:not([open])')];
    for (const details of unfolded) details.open = true;
  });
  addEventListener('afterprint', () => {
    for (const details of unfolded) details.open = false;
    unfolded = [];
  });
}
