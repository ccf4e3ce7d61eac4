import { useEffect, useRef, useState } from 'preact/hooks';
import { clockError, isClockOff } from '#shared/entryTiming.ts';
import { clockTime, moment } from '../../format.ts';
import { author, signInNeeded } from '../../outbox/author.ts';
import { clockFastMs } from '../../outbox/deviceClock.ts';
import { isReachable } from '../../outbox/keptAnswers.ts';
import { lastSentMs } from '../../outbox/lastSent.ts';
import { hasNewVersion, takeNewVersion } from '../../outbox/newVersion.ts';
import { refused, waiting } from '../../outbox/queue.ts';
import { isOld, isOurs } from '../../outbox/waitingEntry.ts';
import '../../styles/outbox.css';

/** In the frame of every page: what waits on this device, and what stands in its way. */
export function OutboxLine() {
  const clock = clockFastMs.value;
  return (
    <div class="outbox-lines">
      <div role="status">
        <Waiting />
        {isClockOff(clock) && (
          <p class="outbox-line outbox-stop">
            This device’s clock is <strong>{clockError(clock)}</strong>, and your entries carry its
            time. Set the clock right.
          </p>
        )}
      </div>
      {hasNewVersion.value && (
        <p class="outbox-line">
          A new version is here. What you typed is kept.{' '}
          <button type="button" class="link" onClick={takeNewVersion}>
            Reload
          </button>
        </p>
      )}
    </div>
  );
}

function Waiting() {
  const hasSent = useHasSent();
  const count = waiting.value.length;
  const isAway = isReachable.value === false;
  if (count === 0 && !isAway)
    return hasSent ? (
      <p class="outbox-line">All sent, {clockTime(new Date(lastSentMs.value ?? Date.now()))}.</p>
    ) : null;
  const [oldest] = waiting.value;
  const isLong = oldest !== undefined && isOld(oldest, Date.now());
  return (
    <p class={refused.value.length > 0 || isLong ? 'outbox-line outbox-stop' : 'outbox-line'}>
      {isAway && 'No connection. '}
      {count === 0 ? (
        'You can go on: what you enter is kept on this device.'
      ) : (
        <a href="/outbox">
          {count} waiting
          {refused.value.length > 0 && `, ${refused.value.length} to put right`}
        </a>
      )}
      {isLong && ` The oldest since ${moment(new Date(oldest.madeMs).toISOString())}.`}
      {count > 0 && heldWords()}
    </p>
  );
}

/** Who has to sign in before all of it can go. */
function heldWords(): string {
  if (signInNeeded.value || author.value === null) return ' Sign in to send.';
  const others = waiting.value.filter((item) => !isOurs(item, author.value));
  if (others.length === 0) return '';
  const names = [...new Set(others.map(({ authorName }) => authorName))].join(' and ');
  return ` ${others.length} of them for ${names} to sign in.`;
}

const shownMs = 8_000;

/** True for a while after the last entry that waited was sent. */
function useHasSent(): boolean {
  const [hasSent, setHasSent] = useState(false);
  const before = useRef(0);
  const count = waiting.value.length;
  useEffect(() => {
    const wasLast = before.current > 0 && count === 0;
    before.current = count;
    if (!wasLast) return;
    setHasSent(true);
    const timer = setTimeout(() => setHasSent(false), shownMs);
    return () => clearTimeout(timer);
  }, [count]);
  return hasSent;
}
