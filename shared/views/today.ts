export type TodayAction = {
  id: string;
  urgency: 'now' | 'today' | 'soon';
  title: string;
  detail: string;
  href: string;
  /** What tapping it starts, in one or two words: "Crop", "Count". */
  verb: string;
};

export type Today = { at: string; actions: TodayAction[] };
