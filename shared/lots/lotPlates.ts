import { type Medium, mediumNamed } from '#shared/micro/media.ts';
import { plateFigure } from '#shared/micro/plateFigure.ts';
import type { PlateStanding } from '#shared/views/lots.ts';
import type { CheckMade, ResultMade } from './holding.ts';

type Plates = {
  checks: readonly CheckMade[];
  results: readonly ResultMade[];
  media?: readonly Medium[] | undefined;
};

/** Every plate of a lot, the newest first, with what it found and how sure that is. */
export function plateStandings({ checks, results, media = [] }: Plates): PlateStanding[] {
  const read = new Map(results.map((result) => [result.checkId, result]));
  return checks
    .map((check): PlateStanding => {
      const result = read.get(check.id);
      const discardPerMillion = mediumNamed(media, check.medium)?.discardPerMillion;
      return {
        id: check.id,
        medium: check.medium,
        looksFor: check.looksFor,
        purpose: check.purpose ?? 'routine',
        cellsPlated: check.cellsPlated ?? null,
        at: check.happenedAt,
        by: check.by,
        dueAt: check.dueAt,
        discardPerMillion: discardPerMillion ?? null,
        result: result === undefined ? null : plateResult(result, check, discardPerMillion),
      };
    })
    .reverse();
}

function plateResult(result: ResultMade, check: CheckMade, discardPerMillion?: number) {
  const { id, happenedAt, by, outcome, colonies, ofColonies } = result;
  const counts = { colonies, ofColonies, cellsPlated: check.cellsPlated };
  return {
    ...{ id, at: happenedAt, by, outcome, colonies: colonies ?? null },
    ofColonies: ofColonies ?? null,
    figure: plateFigure(counts, discardPerMillion),
  };
}
