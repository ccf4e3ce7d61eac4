import { agoWords } from '#shared/agoWords.ts';
import { cropTurn } from '#shared/ferments/cropTurn.ts';
import type { Plan, PlanBrew } from '#shared/plan/planView.ts';
import { acidWashBounds } from '#shared/treatments/acidWash.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LineSummary } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { TodayAction } from '#shared/views/today.ts';
import { brewDayActions } from './brewDayActions.ts';
import { planActions } from './planActions.ts';
import { plateActions, type UnreadPlate } from './plateActions.ts';

type TodayFacts = {
  lots: readonly LotStanding[];
  ferments: readonly FermentStanding[];
  lines: readonly LineSummary[];
  plates: readonly UnreadPlate[];
  plan: Pick<Plan, 'brews' | 'notBrewed' | 'shortages' | 'fresh'>;
  /** The brewery's own date [YYYY-MM-DD] today and tomorrow. */
  today: string;
  tomorrow: string;
};

/** How long yeast in store may go without a temperature; common practice, no source. */
const storeSilenceHours = 24;

const urgencies = ['now', 'today', 'soon'] as const;

/** What to do, in order of urgency, each with the one place to do it. */
export function todayActions(facts: TodayFacts): TodayAction[] {
  const actions = [
    ...facts.ferments.flatMap(fermentActions),
    ...facts.plan.brews.flatMap((brew) => brewActions(brew, facts)),
    ...brewDayActions(facts.plan, facts),
    ...plateActions(facts.plates, facts),
    ...facts.lots.flatMap(lotActions),
    ...facts.lines.filter(isFreshToBegin(facts)).flatMap(lineActions),
    ...planActions(facts.plan, facts),
  ];
  return actions.sort((a, b) => urgencies.indexOf(a.urgency) - urgencies.indexOf(b.urgency));
}

function fermentActions(ferment: FermentStanding): TodayAction[] {
  const { id, vessel, record, flag, state } = ferment;
  const name = `${vessel}, gyle ${record.gyle} ${record.beer}`;
  const page = `/ferments/${id}`;
  if (state === 'collected')
    return [
      {
        id: `pitch-${id}`,
        urgency: 'now',
        title: `Pitch gyle ${record.gyle}`,
        detail: `${name} is collected and waits for yeast.`,
        href: `/pitch?ferment=${id}`,
        verb: 'Pitch',
      },
    ];
  const actions: TodayAction[] = [];
  if (flag.status === 'slow')
    actions.push({
      id: `slow-${id}`,
      urgency: 'now',
      title: `Gyle ${record.gyle} is slow`,
      detail: `${vessel}, ${record.beer}. ${flag.why}`,
      href: page,
      verb: 'Look',
    });
  if (flag.status === 'no reading')
    actions.push({
      id: `reading-${id}`,
      urgency: 'today',
      title: `Take a gravity of gyle ${record.gyle}`,
      detail: `${vessel}, ${record.beer}. ${flag.why}`,
      href: page,
      verb: 'Gravity',
    });
  if (isHeadDue(ferment))
    actions.push({
      id: `crop-${id}`,
      urgency: 'now',
      title: `Crop ${vessel}`,
      detail: `Gyle ${record.gyle} ${record.beer}: the head to keep should stand now.`,
      href: `/crop?ferment=${id}`,
      verb: 'Crop',
    });
  return actions;
}

/** A head passes; yeast in a cone can wait a day. */
const isHeadDue = (ferment: FermentStanding) =>
  ferment.strain.crops === 'top' && cropTurn(ferment).turn === 'due';

/** A brew that is collected already asks for its yeast as a ferment. */
function brewActions(brew: PlanBrew, { lots, today, tomorrow }: TodayFacts): TodayAction[] {
  if (brew.kind !== 'planned') return [];
  if (brew.onDay !== today && brew.onDay !== tomorrow) return [];
  const when = brew.onDay === today ? 'today' : 'tomorrow';
  const ours = lots.filter((lot) => lot.strain.id === brew.strainId);
  if (ours.some((lot) => lot.verdict.verdict === 'fit')) return [];
  const toTest = ours
    .filter((lot) => lot.verdict.verdict === 'test first')
    .toSorted((a, b) => a.ageHours - b.ageHours)[0];
  if (toTest === undefined)
    return [
      {
        id: `none-${brew.id}`,
        urgency: 'now',
        title: `No yeast fit for ${brew.beer} ${when}`,
        detail: 'No lot of its strain in store can be pitched: crop, or bring in fresh culture.',
        href: '/yeast',
        verb: 'Yeast',
      },
    ];
  return [
    {
      id: `test-${brew.id}`,
      urgency: brew.onDay === today ? 'now' : 'today',
      title: `Count and stain ${toTest.code}`,
      detail: `For ${brew.beer} ${when}. ${toTest.verdict.reasons[0]?.text ?? ''}`,
      href: `/bench?lot=${toTest.id}`,
      verb: 'Bench',
    },
  ];
}

function lotActions(lot: LotStanding): TodayAction[] {
  const { id, code, kind, verdict, wash } = lot;
  const why = verdict.reasons[0]?.text ?? '';
  if (verdict.verdict === 'past it')
    return [
      {
        id: `discard-${id}`,
        urgency: 'soon',
        title: `Throw ${code} away`,
        detail: why,
        href: `/yeast/${id}?do=discard`,
        verb: 'Discard',
      },
    ];
  if (verdict.verdict === 'hold')
    return [
      {
        id: `hold-${id}`,
        urgency: 'soon',
        title: `${code} waits`,
        detail: `${why}. It is not pitched until it is released.`,
        href: `/yeast/${id}`,
        verb: 'Look',
      },
    ];
  if (wash !== null && wash.hoursSince <= acidWashBounds.longestWaitHours)
    return [
      {
        id: `washed-${id}`,
        urgency: 'now',
        title: `Pitch ${code} at once`,
        detail: `Acid washed ${agoWords(wash.hoursSince)}: washed yeast is not stored.`,
        href: `/pitch?lot=${id}`,
        verb: 'Pitch',
      },
    ];
  if (lot.latestTempC === null && kind !== 'freshCulture' && lot.ageHours > storeSilenceHours)
    return [
      {
        id: `temperature-${id}`,
        urgency: 'soon',
        title: `Take the temperature of ${code}`,
        detail: 'The yeast itself, not the room: no reading since it was cropped.',
        href: `/yeast/${id}?do=temperature`,
        verb: 'Thermometer',
      },
    ];
  return [];
}

/** Whether fresh culture for a line is not there, not under way, nor told of by the plan with its date. */
function isFreshToBegin({ plan, lines, ...days }: TodayFacts) {
  const told = new Set(planActions(plan, days).map(({ id }) => id));
  return ({ strain, state, startedAt }: LineSummary) => {
    if (state === 'drifting') return true;
    const isThere = lines.some(
      (line) => line.strain.id === strain.id && line.lotsInStore > 0 && line.startedAt > startedAt,
    );
    if (isThere) return false;
    const isUnderWay = plan.fresh.some(
      (fresh) => fresh.strain.id === strain.id && (fresh.need?.expectedOn ?? null) !== null,
    );
    return !isUnderWay && !told.has(`fresh-${strain.id}`);
  };
}

function lineActions(line: LineSummary): TodayAction[] {
  const why = line.reasons[0]?.text ?? '';
  const page = { href: `/lines/${line.id}`, verb: 'Line' };
  if (line.state === 'drifting')
    return [
      {
        id: `drift-${line.id}`,
        urgency: 'today',
        title: `Look at line ${line.code}`,
        detail: `${why}. Rule out oxygen, temperature and malt before the yeast is blamed.`,
        ...page,
      },
    ];
  if (line.state !== 'due' && line.state !== 'due soon') return [];
  return [
    {
      id: `line-${line.id}`,
      urgency: line.state === 'due' ? 'today' : 'soon',
      title: `Bring in fresh ${line.strain.name}`,
      detail: `Line ${line.code}: ${why}. It takes ${line.strain.leadTimeDays} days.`,
      ...page,
    },
  ];
}
