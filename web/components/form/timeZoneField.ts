import { isTimeZone } from '#shared/localDay.ts';
import { type Spec, text } from './fields.ts';

type Ask = { label: string; hint: string; optional?: boolean };

/** A time zone by area and city, from the list of this browser; a city alone will do. */
export function timeZone(ask: Ask): Spec<string> {
  const zones = Intl.supportedValuesOf('timeZone');
  return {
    ...text({ ...ask, suggestions: zones }),
    offers: (typed) => zonesMeant(typed, zones),
    parse: (typed) => {
      const trimmed = typed.trim();
      if (trimmed === '') return { value: undefined };
      const value = zoneOf(trimmed, zones);
      return value === undefined
        ? {
            problem: `“${trimmed}” is no time zone in the list: choose one, such as Europe/London`,
          }
        : { value };
    },
  };
}

/** As in the list, whatever the capitals; a city alone where only one bears the name. */
export function zoneOf(typed: string, zones: readonly string[]): string | undefined {
  const exact = zones.find((zone) => plain(zone) === plain(typed));
  if (exact !== undefined) return exact;
  const [only, ...others] = zones.filter((zone) => plain(cityOf(zone)) === plain(typed));
  if (only !== undefined && others.length === 0) return only;
  return isTimeZone(typed) ? typed : undefined;
}

/** Up to three whose city begins with what is typed, where that names none by itself. */
export function zonesMeant(typed: string, zones: readonly string[]): string[] {
  const start = plain(typed.trim());
  if (start.length < 3 || zones.some((zone) => plain(zone) === start)) return [];
  return zones.filter((zone) => plain(cityOf(zone)).startsWith(start)).slice(0, 3);
}

const cityOf = (zone: string) => zone.slice(zone.lastIndexOf('/') + 1);
const plain = (name: string) => name.toLowerCase().replaceAll('_', ' ');
