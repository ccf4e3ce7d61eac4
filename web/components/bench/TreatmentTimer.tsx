import { useEffect, useState } from 'preact/hooks';
import { minuteMs } from '#shared/durations.ts';
import { acidWashBounds } from '#shared/treatments/acidWash.ts';
import { keep, kept } from '../../deviceMemory.ts';

const keyOf = (lotId: string) => `barmbook.wash.${lotId}`;

/** When the wash of a lot was started on this device; it outlives a reload. */
export function washStarted(lotId: string): number | undefined {
  const startedMs = Number(kept(keyOf(lotId)) ?? Number.NaN);
  return startedMs > 0 ? startedMs : undefined;
}

const forgetWash = (lotId: string) => keep(keyOf(lotId), null);

type Props = { lotId: string; code: string; onStop: (minutes: number) => void };

/** Times an acid wash; stopping it fills the minutes in. */
export function TreatmentTimer({ lotId, code, onStop }: Props) {
  const [startedMs, setStartedMs] = useState(washStarted(lotId));
  const minutes = useMinutesSince(startedMs);
  if (startedMs === undefined || minutes === undefined)
    return (
      <p>
        <button
          type="button"
          class="button quiet"
          onClick={() => {
            const nowMs = Date.now();
            keep(keyOf(lotId), String(nowMs));
            setStartedMs(nowMs);
          }}
        >
          Start the clock
        </button>
      </p>
    );
  const isOver = minutes > acidWashBounds.longestMinutes;
  return (
    <div class={isOver ? 'warning' : 'wash-clock'}>
      <p>
        <strong>{Math.floor(minutes)} min</strong> since the wash of {code} began;{' '}
        {timeLeft(minutes)}
      </p>
      <p role="alert">{isOver ? 'Two hours are over: stop the wash and pitch at once.' : ''}</p>
      <p>
        <button
          type="button"
          class="button quiet"
          onClick={() => {
            forgetWash(lotId);
            setStartedMs(undefined);
            onStop(Math.max(1, Math.round(minutes)));
          }}
        >
          Stop the clock
        </button>
      </p>
    </div>
  );
}

function timeLeft(minutes: number): string {
  const left = acidWashBounds.longestMinutes - minutes;
  return left > 0 ? `${Math.ceil(left)} min are left.` : `${Math.floor(-left)} min too long.`;
}

function useMinutesSince(startedMs: number | undefined): number | undefined {
  const [nowMs, setNowMs] = useState(Date.now());
  useEffect(() => {
    if (startedMs === undefined) return undefined;
    setNowMs(Date.now());
    const timer = setInterval(() => setNowMs(Date.now()), 1000);
    return () => clearInterval(timer);
  }, [startedMs]);
  return startedMs === undefined ? undefined : Math.max(0, nowMs - startedMs) / minuteMs;
}
