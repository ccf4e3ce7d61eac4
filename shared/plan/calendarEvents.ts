import type { UnreadPlate } from '#shared/today/plateActions.ts';
import type { FreshNeed } from './freshView.ts';
import type { Plan, PlanBrew, PlanPart, PlanSource } from './planView.ts';

/** One thing to do: on a day, or from one moment to another. Its id stays when it moves. */
export type CalendarEvent = { id: string; title: string; detail: string } & (
  | { day: string }
  | { from: string; to: string }
);

/** The work a plan asks for: brews, crops, fresh culture with its steps, and plates to read. */
export function calendarEvents(plan: Plan, plates: readonly UnreadPlate[]): CalendarEvent[] {
  return [
    ...plan.brews.map(brewEvent),
    ...plan.sources.flatMap(cropEvent),
    ...plan.fresh.flatMap((need) => freshEvents(need, plan)),
    ...plates.map(plateEvent),
  ];
}

function brewEvent(brew: PlanBrew): CalendarEvent {
  const { id, beer, onDay, volumeL, vessel, parts, state, note } = brew;
  const yeast =
    state === 'short'
      ? 'There is not enough yeast for it: see Plan.'
      : `Yeast: ${parts.map(partWords).join(' and ')}.`;
  const tight = state === 'tight' ? 'It is tight: have more in reserve.' : undefined;
  const wort = `${Math.round(volumeL)} L${vessel === null ? '' : ` into ${vessel}`}.`;
  return {
    id: `brew-${id}`,
    title: `Brew ${beer}${state === 'short' ? ': no yeast' : ''}`,
    detail: [wort, yeast, tight, note].filter((text) => text != null).join(' '),
    day: onDay,
  };
}

function partWords({ amount, label, shareOfSource, isToCome }: PlanPart): string {
  const share = `${(100 * shareOfSource).toFixed(0)} % of the ${label}`;
  if (amount === null) return share;
  const so = `${amount.value.toFixed(1)} ${amount.unit} (${amount.low.toFixed(1)} to ${amount.high.toFixed(1)})`;
  return isToCome ? `${share}, about ${so} of slurry` : `${so} of ${label}`;
}

function cropEvent(source: PlanSource): CalendarEvent[] {
  const { id, label, cropFrom, cropTo, generation, heldBecause, toKeep } = source;
  if (cropFrom === null || cropTo === null || generation === null) return [];
  const keep =
    toKeep === null
      ? 'The plan asks nothing of it.'
      : `Keep at least ${toKeep.ratio.toFixed(1)} times what was pitched (usual ${toKeep.usual.value.toFixed(1)}).`;
  const title = `${label.slice(0, 1).toUpperCase()}${label.slice(1)}`;
  return [
    {
      ...{ id, title, from: cropFrom, to: cropTo },
      detail: heldBecause === null ? keep : `Not to be used: ${heldBecause}.`,
    },
  ];
}

function freshEvents({ strain, comesFrom, need }: FreshNeed, plan: Plan): CalendarEvent[] {
  if (need === null) return [];
  const steps = need.steps.map((step, index): CalendarEvent => {
    const name = `${strain.name} propagation, step ${index + 1} of ${need.steps.length}`;
    const volume =
      step.volumeL < 1 ? `${(1000 * step.volumeL).toFixed(0)} mL` : `${step.volumeL.toFixed(1)} L`;
    return {
      id: `step-${index + 1}-${strain.id}`,
      title: `${name}: ${volume}`,
      detail: index === 0 ? 'From the slope.' : 'Step up all of the one before.',
      from: step.startAt,
      to: step.endAt,
    };
  });
  if (need.expectedOn !== null)
    return [
      {
        id: `fresh-${strain.id}`,
        title: `Fresh ${strain.name} expected`,
        detail: 'Enter it as a fresh culture when it is there.',
        day: need.expectedOn,
      },
      ...steps,
    ];
  const isPast = need.startBy < plan.fromDay;
  return [
    {
      id: `fresh-${strain.id}`,
      title:
        comesFrom === 'bought' ? `Order fresh ${strain.name}` : `Wake the slope of ${strain.name}`,
      detail: `At the latest, for ${need.onDay} (${need.because}).${isPast ? ` It is late: ready on ${need.earliestDay} at the earliest.` : ''}`,
      day: isPast ? plan.fromDay : need.startBy,
    },
    ...steps,
  ];
}

function plateEvent({ id, medium, lotCode, looksFor, dueDay }: UnreadPlate): CalendarEvent {
  return {
    id: `plate-${id}`,
    title: `Read the ${medium} plate of ${lotCode}`,
    detail: `It looks for ${looksFor}.`,
    day: dueDay,
  };
}
