import { DomainError, type WriteStopCode } from '#shared/errors.ts';

export type WriteStop = { code: WriteStopCode; reason: string };
type WriteStopSource = 'disk' | 'clock' | 'file' | 'crashes' | 'stopping';

/** What stands in the way of writing, by who found it; each finder takes back only its own. */
export function createWriteStops() {
  const stops = new Map<WriteStopSource, WriteStop>();
  const current = (): WriteStop | undefined => stops.values().next().value;
  return {
    current,
    /** Every one of them, as several may stand at once. */
    all: (): WriteStop[] => [...stops.values()],
    set: (source: WriteStopSource, stop: WriteStop | undefined) => {
      if (stop === undefined) stops.delete(source);
      else stops.set(source, stop);
    },
    /** @throws DomainError with the code and reason of the first stop */
    refuse: () => {
      const stop = current();
      if (stop !== undefined) throw new DomainError(stop.code, stop.reason);
    },
  };
}

export type WriteStops = ReturnType<typeof createWriteStops>;
