const weekdays = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const months = [
  ...['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun'],
  ...['Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'],
];

/**
 * A date as people read it everywhere: "Mon 6 Jul", and "Mon 6 Jul 2026" outside the year of today.
 *
 * @param day  [YYYY-MM-DD]
 * @param today  [YYYY-MM-DD]; left out where what is written may be read at any time: then the year stands
 * @returns the words; the text itself where it is no date
 */
export function dayWords(day: string, today?: string): string {
  const date = new Date(`${day}T00:00:00Z`);
  if (Number.isNaN(date.getTime())) return day;
  const words = `${weekdays[date.getUTCDay()]} ${date.getUTCDate()} ${months[date.getUTCMonth()]}`;
  return today !== undefined && today.slice(0, 4) === day.slice(0, 4)
    ? words
    : `${words} ${date.getUTCFullYear()}`;
}
