import { lotCodePrefix } from '#shared/lotCode.ts';
import { type LotRow, lotStanding } from '#shared/lots/lotStanding.ts';
import { CHAMBER_CV, PIPETTING_CV } from '#shared/science/countSetup.ts';
import { keyOfNamed } from '#shared/sites/site.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { WaitingEntry } from './waitingEntry.ts';
import { aboutLot, recordsOf } from './waitingRecords.ts';

type Told = { lots: LotStanding[]; ferments: FermentStanding[]; setup: Setup };
type MadeRecord = Recorded<'crop' | 'freshCulture' | 'blend'>;
type Origin = Pick<LotRow, 'siteId' | 'lineId' | 'generation' | 'fromFerment'> & {
  strain: StrainView;
  /** As far as it can be known before the log gives it. */
  code: string;
};

/** The lots that wait to be written down, each with what waits about it; the newest first. */
export function lotsMade(told: Told, queue: readonly WaitingEntry[], nowMs: number): LotStanding[] {
  const records: MadeRecord[] = [
    ...recordsOf('crop', queue),
    ...recordsOf('freshCulture', queue),
    ...recordsOf('blend', queue),
  ].toSorted((a, b) => a.seq - b.seq);
  const errors = countErrors(told.setup);
  const made: LotStanding[] = [];
  for (const record of records) {
    const origin = originOf(record, { ...told, lots: [...made, ...told.lots] });
    if (origin !== undefined)
      made.unshift(lotStanding(evidenceOf(record, origin, queue), errors, nowMs));
  }
  return made;
}

function originOf(record: MadeRecord, told: Told): Origin | undefined {
  switch (record.kind) {
    case 'crop':
      return cropOrigin(record, told);
    case 'freshCulture':
      return freshOrigin(record, told);
    case 'blend':
      return blendOrigin(record, told);
  }
}

function cropOrigin(
  { fermentId, code }: Recorded<'crop'>,
  { ferments, lots }: Told,
): Origin | undefined {
  const ferment = ferments.find(({ id }) => id === fermentId);
  if (ferment === undefined) return undefined;
  const { strain, record: brew } = ferment;
  const parent = lots.find((lot) => ferment.pitches.some(({ lotId }) => lotId === lot.id));
  return {
    strain,
    code: code ?? unfinished({ kind: 'crop', strainCode: strain.code, gyle: brew.gyle }),
    siteId: ferment.siteId,
    lineId: parent?.lineId ?? '',
    generation: (ferment.generation ?? 0) + 1,
    fromFerment: { id: ferment.id, gyle: brew.gyle, beer: brew.beer },
  };
}

function freshOrigin(
  { id, strainId, siteId, code, generation }: Recorded<'freshCulture'>,
  { setup }: Told,
): Origin | undefined {
  const strain = setup.strains.find((each) => each.id === strainId);
  return (
    strain && {
      strain,
      code: code ?? unfinished({ kind: 'freshCulture', strainCode: strain.code }),
      siteId: keyOfNamed(siteId, setup.homeId),
      lineId: id,
      generation,
      fromFerment: null,
    }
  );
}

function blendOrigin({ parents, code }: Recorded<'blend'>, { lots }: Told): Origin | undefined {
  const mixed = parents.flatMap(({ lotId }) => lots.find(({ id }) => id === lotId) ?? []);
  const [first] = mixed;
  return (
    first && {
      strain: first.strain,
      code: code ?? unfinished({ kind: 'blend', strainCode: first.strain.code }),
      siteId: first.siteId,
      lineId: first.lineId,
      generation: Math.max(...mixed.map(({ generation }) => generation)),
      fromFerment: null,
    }
  );
}

/** A code whose end the log will give: "TN-F…". */
const unfinished = (origin: Parameters<typeof lotCodePrefix>[0]) => `${lotCodePrefix(origin)}…`;

function evidenceOf(record: MadeRecord, origin: Origin, queue: readonly WaitingEntry[]) {
  const { strain, ...rest } = origin;
  const { id, kind, happenedAt, amountL = null, amountKg = null } = record;
  return {
    row: {
      ...rest,
      id,
      kind,
      strainId: strain.id,
      timesPitched: 0,
      happenedMs: Date.parse(happenedAt),
      amountL,
      amountKg,
      leftL: amountL,
      leftKg: amountKg,
    },
    record,
    strain,
    counts: aboutLot(recordsOf('count', queue), id),
    stains: aboutLot(recordsOf('stain', queue), id),
    storeReadings: aboutLot(recordsOf('storeReading', queue), id),
    checks: aboutLot(recordsOf('microCheck', queue), id),
    results: recordsOf('microResult', queue),
    holds: aboutLot(recordsOf('hold', queue), id),
    releases: aboutLot(recordsOf('release', queue), id),
  };
}

function countErrors({ brewery }: Setup) {
  return brewery === null
    ? { chamberCv: CHAMBER_CV, pipettingCv: PIPETTING_CV }
    : {
        chamberCv: brewery.chamberCvPercent / 100,
        pipettingCv: brewery.pipettingCvPercent / 100,
      };
}

/** A lot less what waiting entries take out of it. */
export function lessUsed(lot: LotStanding, queue: readonly WaitingEntry[]): LotStanding {
  const taken = [
    ...recordsOf('pitch', queue),
    ...recordsOf('discard', queue),
    ...recordsOf('transfer', queue),
    ...recordsOf('blend', queue).flatMap(({ parents }) => parents),
  ];
  const used = aboutLot(taken, lot.id).reduce(
    (sum, { amountL, amountKg }) => sum + (amountL ?? amountKg ?? 0),
    0,
  );
  return used === 0 ? lot : { ...lot, left: Math.max(0, lot.left - used) };
}
