import type { TraceMark } from '#shared/lineage/traceMarks.ts';
import { day } from '../../format.ts';

/** What speaks for a closer look at a record: what, why, when and by whom. */
export function TraceMarks({ marks }: { marks: readonly TraceMark[] }) {
  return (
    <>
      {marks.map(({ what, text, at, by, isOver }) => (
        <p key={`${what} ${at} ${text}`} class={isOver ? 'mark mark-over' : 'mark'}>
          {what}: {text} ({day(at)}, {by}
          {isOver && ', lifted since'})
        </p>
      ))}
    </>
  );
}
