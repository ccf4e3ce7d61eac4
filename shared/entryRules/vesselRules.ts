import type { EntryOf } from '../entries/entry.ts';
import type { FieldError } from '../errors.ts';
import type { EntryContext } from './entryContext.ts';

/**
 * Why a gyle cannot have been in its fermenter then: two gyles are never in one at a time, whichever
 * of them is entered first.
 */
export function sharedVesselRefusals(
  entry: EntryOf<'ferment'>,
  context: EntryContext,
): FieldError[] {
  const { neighbours, alongside } = context;
  if (neighbours === undefined || isWhereItWas(entry, context)) return [];
  const { vessel, running, next } = neighbours;
  const refuse = (message: string) => [{ path: 'vesselId', message }];
  if (running !== undefined)
    return refuse(`${vessel} still holds gyle ${running.gyle}: record its racking first`);
  if (next === undefined) return [];
  const rackedMs = rackedOf(context);
  if (rackedMs === undefined)
    return alongside === undefined
      ? []
      : refuse(
          `${vessel} held gyle ${next.gyle} afterwards: give the time at which this one was racked`,
        );
  return rackedMs > next.happenedMs
    ? refuse(`${vessel} held gyle ${next.gyle} before this one was racked: check the times`)
    : [];
}

/** A racking comes before the next gyle is collected into the fermenter. */
export function rackRefusals(
  { happenedAt }: EntryOf<'rack'>,
  { neighbours, before }: EntryContext,
): FieldError[] {
  const next = neighbours?.next;
  if (next === undefined || before?.happenedAt === happenedAt) return [];
  return Date.parse(happenedAt) > next.happenedMs
    ? [
        {
          path: 'happenedAt',
          message: `${neighbours?.vessel} already held gyle ${next.gyle} then: enter when this one was racked`,
        },
      ]
    : [];
}

/** What to look at again in the times of a gyle beside those of its neighbours. */
export function sharedVesselWarnings(
  { happenedAt }: EntryOf<'ferment'>,
  { neighbours, alongside }: EntryContext,
): string[] {
  if (neighbours === undefined || alongside !== undefined) return [];
  const { vessel, before, next } = neighbours;
  const warnings: string[] = [];
  if (before !== undefined && (before.rackedMs ?? 0) > Date.parse(happenedAt))
    warnings.push(
      `By the record ${vessel} held gyle ${before.gyle} until later than that: check the times.`,
    );
  if (next !== undefined)
    warnings.push(`${vessel} held gyle ${next.gyle} afterwards: record when this one was racked.`);
  return warnings;
}

const rackedOf = ({ alongside, ferment }: EntryContext) =>
  alongside?.rackedMs ?? ferment?.rackedMs ?? undefined;

const isWhereItWas = (entry: EntryOf<'ferment'>, { before }: EntryContext) =>
  before?.kind === 'ferment' &&
  before.vesselId === entry.vesselId &&
  before.happenedAt === entry.happenedAt;
