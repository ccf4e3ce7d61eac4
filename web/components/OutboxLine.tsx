import { useEffect, useRef, useState } from 'preact/hooks';
import { author, signInNeeded } from '../outbox/author.ts';
import { clockError, clockFastMs, isClockOff } from '../outbox/deviceClock.ts';
import { isReachable } from '../outbox/keptAnswers.ts';
import { hasNewVersion, takeNewVersion } from '../outbox/newVersion.ts';
import { refused, waiting } from '../outbox/queue.ts';
import { isOurs } from '../outbox/waitingEntry.ts';
import '../styles/outbox.css';

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
  if (count === 0 && !isAway) return hasSent ? <p class="outbox-line">All sent.</p> : null;
  return (
    <p class={refused.value.length > 0 ? 'outbox-line outbox-stop' : 'outbox-line'}>
      {isAway && 'No connection. '}
      {count === 0 ? (
        'You can go on: what you enter is kept on this device.'
      ) : (
        <a href="/outbox">
          {count} waiting
          {refused.value.length > 0 && `, ${refused.value.length} to put right`}
        </a>
      )}
      {count > 0 && isSignInWanted() && ' Sign in to send.'}
    </p>
  );
}

const isSignInWanted = () =>
  signInNeeded.value ||
  (author.value === null && waiting.value.some((item) => !isOurs(item, author.value)));

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
