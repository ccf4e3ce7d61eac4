import { dayWords } from '#shared/dayWords.ts';
import type { Plan } from '#shared/plan/planView.ts';
import type { TodayAction } from '#shared/views/today.ts';

/** The brews of the day, to be written down once they are in their FV, and those of days passed. */
export function brewDayActions(
  { brews, notBrewed }: Pick<Plan, 'brews' | 'notBrewed'>,
  { today }: { today: string },
): TodayAction[] {
  return [
    ...brews
      .filter(({ kind, onDay }) => kind === 'planned' && onDay === today)
      .map(
        ({ id, beer, volumeL, vessel }): TodayAction => ({
          id: `collect-${id}`,
          urgency: 'today',
          title: `Collect ${beer}`,
          detail: `${Math.round(volumeL)} L${vessel === null ? '' : ` into ${vessel}`}, planned for today: write it down once it is in the FV.`,
          href: `/ferments/new?planned=${id}`,
          verb: 'Collect',
        }),
      ),
    ...notBrewed.map(
      ({ id, beer, onDay }): TodayAction => ({
        id: `passed-${id}`,
        urgency: 'soon',
        title: `Was ${beer} brewed?`,
        detail: `It was planned for ${dayWords(onDay, today)}, and no gyle was collected for it: collect it, give it another day, or strike it out.`,
        href: '/plan#not-brewed',
        verb: 'Plan',
      }),
    ),
  ];
}
