/**
 * What a press of a stepper makes of a figure. No press writes a figure that nobody gave: a blank one
 * starts at what is known of the last time, else at nothing.
 *
 * @param typed  the figure as it stands, trimmed
 * @param by  how far the press moves it
 * @param start  where a blank one starts, such as the amount of the last crop
 * @returns the new figure; undefined where the press does nothing
 */
export function stepped(typed: string, by: number, start: number | undefined): string | undefined {
  const now = Number(typed.replace(',', '.'));
  if (Number.isNaN(now)) return undefined;
  const isBlank = typed === '';
  const next = isBlank && start !== undefined ? start : now + by;
  return isBlank && next <= 0 ? undefined : String(Number(Math.max(0, next).toFixed(2)));
}
