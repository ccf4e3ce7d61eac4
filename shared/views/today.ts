export type TodayAction = {
  id: string;
  urgency: 'now' | 'today' | 'soon';
  title: string;
  detail: string;
  href: string;
  /** What tapping it starts, in one or two words: "Crop", "Count". */
  verb: string;
  /** The name of the site, in a list of several. */
  site?: string | undefined;
};

export type Today = { at: string; actions: TodayAction[] };
