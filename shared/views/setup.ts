import type { Medium } from '../micro/media.ts';
import type { Recorded, StrainView } from './recorded.ts';

export type Setup = {
  brewery: Recorded<'brewery'> | null;
  strains: StrainView[];
  vessels: (Recorded<'vessel'> & { holds: { fermentId: string; gyle: string } | null })[];
  /** Of today and later, and not brewed yet; the earliest first. */
  plannedBrews: Recorded<'plannedBrew'>[];
  /** Of the days before, and no gyle came of them. */
  notBrewed: Recorded<'plannedBrew'>[];
  /** Presets and the brewery's own, by name. */
  media: Medium[];
  /** None in a brewery that never named one. */
  sites: Recorded<'site'>[];
  /** The first site: it holds whatever names none. */
  homeId: string | null;
  /** The site these are of, where there are two or more; null when they are of all. */
  siteId: string | null;
};
