import type { TodayAction } from '#shared/views/today.ts';
import { Tag, type Tone } from './Status.tsx';

const urgencies: { urgency: TodayAction['urgency']; heading: string; tone: Tone }[] = [
  { urgency: 'now', heading: 'Now', tone: 'stop' },
  { urgency: 'today', heading: 'Today', tone: 'watch' },
  { urgency: 'soon', heading: 'Soon', tone: 'plain' },
];

/** What there is to do, the most urgent first, each with one tap to do it. */
export function TodayList({ actions }: { actions: readonly TodayAction[] }) {
  if (actions.length === 0)
    return <p class="empty">Nothing presses. The next gravity or crop will show here.</p>;
  return (
    <>
      {urgencies.map(({ urgency, heading, tone }) => {
        const these = actions.filter((action) => action.urgency === urgency);
        if (these.length === 0) return null;
        return (
          <section key={urgency} class="to-do">
            <h2>
              <Tag tone={tone}>{heading}</Tag>
            </h2>
            <ul>
              {these.map((action) => (
                <li key={action.id}>
                  <div class="to-do-what">
                    <h3>
                      {action.title} {action.site !== undefined && <small>{action.site}</small>}
                    </h3>
                    <p>{action.detail}</p>
                  </div>
                  <a class={urgency === 'now' ? 'button' : 'button quiet'} href={action.href}>
                    {action.verb}
                    <span class="unseen">
                      : {[action.title, action.site].filter(Boolean).join(', ')}
                    </span>
                  </a>
                </li>
              ))}
            </ul>
          </section>
        );
      })}
    </>
  );
}
