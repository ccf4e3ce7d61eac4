import type { Entry } from '#shared/entries/entry.ts';
import {
  cells,
  day,
  enteredAmount,
  gravity,
  millionPerMl,
  percent,
  temperature,
  volume,
  wholeOrDecimal,
} from './format.ts';
import { siteName } from './sites.ts';

/** What kind of entry it is, in the words of the trade. */
export const entryNames: Record<Entry['kind'], string> = {
  brewery: 'Brewery',
  site: 'Site',
  strain: 'Strain',
  vessel: 'FV',
  freshCulture: 'Fresh culture',
  ferment: 'Gyle collected',
  pitch: 'Pitched',
  reading: 'Reading',
  chill: 'Chilled',
  rack: 'Racked',
  crop: 'Cropped',
  blend: 'Mixed',
  transfer: 'Sent to another site',
  storeReading: 'Store temperature',
  count: 'Counted',
  stain: 'Stained',
  microCheck: 'Plated',
  microResult: 'Plate read',
  treatment: 'Treated',
  discard: 'Thrown away',
  hold: 'Put on hold',
  release: 'Released',
  familyHold: 'Put on hold with all that comes from it',
  familyRelease: 'Released with all that was held',
  medium: 'Medium',
  plannedBrew: 'Brew planned',
  allotment: 'Yeast set aside',
  freshCulturePolicy: 'Fresh culture policy',
  void: 'Struck out',
};

/** The facts of an entry in one line, as they were written down. */
export function entryFacts(entry: Entry): string {
  const facts = factsOf(entry);
  return ('note' in entry ? [...facts, entry.note] : facts)
    .filter((fact) => fact !== undefined && fact !== '')
    .join(', ');
}

function factsOf(entry: Entry): (string | undefined)[] {
  switch (entry.kind) {
    case 'freshCulture':
      return [entry.origin, entry.supplier, enteredAmount(entry), entry.container, entry.place];
    case 'crop':
      return [
        entry.cut,
        enteredAmount(entry),
        entry.container,
        entry.place,
        entry.look,
        entry.smell,
      ];
    case 'site':
      return [entry.name, entry.code, entry.timeZone];
    case 'transfer':
      return [
        enteredAmount(entry),
        siteName(entry.toSiteId) && `to ${siteName(entry.toSiteId)}`,
        entry.container,
        entry.place,
      ];
    case 'blend':
      return [
        `of ${entry.parents.length} lots`,
        enteredAmount(entry),
        entry.container,
        entry.place,
      ];
    case 'pitch':
      return [
        enteredAmount(entry),
        entry.expectedViableCells === undefined
          ? undefined
          : `${cells(entry.expectedViableCells)} expected alive`,
        entry.slurryCorrection === undefined
          ? undefined
          : `cells taken ${wholeOrDecimal(Number(entry.slurryCorrection.toFixed(2)))} times, by counts in the FV`,
        entry.override && `although: ${entry.override}`,
      ];
    case 'storeReading':
      return [temperature(entry.tempC), entry.place];
    case 'count':
      return [countedWords(entry)];
    case 'stain':
      return [
        entry.stain,
        `${entry.live} live, ${entry.dead} dead`,
        percent((100 * entry.live) / (entry.live + entry.dead), 1),
      ];
    case 'microCheck':
      return [
        entry.medium,
        entry.looksFor,
        entry.purpose === 'suspicion' ? 'on suspicion' : undefined,
        `to be read ${day(entry.dueAt)}`,
      ];
    case 'microResult':
      return [
        entry.outcome,
        entry.colonies === undefined
          ? undefined
          : `${entry.colonies} ${entry.ofColonies === undefined ? 'colonies' : `of ${entry.ofColonies} colonies`}`,
      ];
    case 'treatment':
      return [
        entry.treatment,
        entry.agent,
        entry.ph === undefined ? undefined : `pH ${wholeOrDecimal(entry.ph)}`,
        entry.tempC === undefined ? undefined : temperature(entry.tempC),
        entry.minutes === undefined ? undefined : `${wholeOrDecimal(entry.minutes)} min`,
        entry.addedL === undefined ? undefined : `${wholeOrDecimal(entry.addedL)} L added`,
      ];
    case 'discard':
      return [enteredAmount(entry), entry.why];
    case 'hold':
    case 'release':
    case 'familyRelease':
      return [entry.why];
    case 'familyHold':
      return [
        entry.why,
        `${counted(entry.lotIds, 'lot')} held`,
        `${counted(entry.fermentIds, 'ferment')} marked`,
      ];
    case 'medium':
      return [
        entry.name,
        entry.looksFor,
        `read after ${wholeOrDecimal(entry.readAfterDays)} days`,
        entry.discardPerMillion === undefined
          ? undefined
          : `thrown away at ${wholeOrDecimal(entry.discardPerMillion)} per million`,
        entry.retired ? 'no longer used' : undefined,
      ];
    case 'reading':
      return [
        entry.gravitySg === undefined ? undefined : gravity(entry.gravitySg),
        entry.tempC === undefined ? undefined : temperature(entry.tempC),
        entry.ph === undefined ? undefined : `pH ${wholeOrDecimal(entry.ph)}`,
        entry.cellsPerMl === undefined ? undefined : millionPerMl(entry.cellsPerMl),
        entry.count && countedWords({ ...entry.count, basis: 'mL' }),
      ];
    case 'ferment':
      return [
        entry.gyle,
        entry.beer,
        volume(entry.volumeL),
        gravity(entry.originalGravitySg),
        entry.plannedBrewId === null
          ? 'not planned'
          : entry.plannedBrewId === undefined
            ? undefined
            : 'as planned',
      ];
    case 'chill':
      return [entry.toTempC === undefined ? undefined : `to ${temperature(entry.toTempC)}`];
    case 'rack':
      return [
        entry.gravitySg === undefined ? undefined : gravity(entry.gravitySg),
        entry.batches.join(', '),
      ];
    case 'plannedBrew':
      return [
        day(entry.onDay),
        entry.beer,
        volume(entry.volumeL),
        gravity(entry.originalGravitySg),
      ];
    case 'strain':
      return [entry.name, entry.code];
    case 'vessel':
      return [entry.name, entry.capacityL === undefined ? undefined : volume(entry.capacityL)];
    case 'brewery':
      return [entry.name];
    case 'allotment':
      return [
        entry.fromLotId === undefined ? 'of a crop to come' : 'of a lot in store',
        (entry.amountL ?? entry.amountKg) === undefined ? undefined : enteredAmount(entry),
      ];
    case 'freshCulturePolicy':
      return [entry.comesFrom === 'slope' ? 'from a slope' : 'bought'];
    case 'void':
      return [];
  }
}

type Counted = Pick<Extract<Entry, { kind: 'count' }>, 'fillings' | 'basis'>;

function countedWords({ fillings, basis }: Counted): string {
  const squares = fillings.flatMap((filling) => filling.squares);
  const seen = squares.reduce((sum, each) => sum + each, 0);
  const factors = [...new Set(fillings.map(({ dilutionFactor }) => dilutionFactor))];
  const dilutions = factors.map(wholeOrDecimal).join(' and ');
  return `${seen} cells in ${squares.length} ${squares.length === 1 ? 'square' : 'squares'}, diluted ${dilutions} times, per ${basis}`;
}

const counted = (ids: readonly string[] | undefined, noun: string) => {
  const many = ids?.length ?? 0;
  return `${many === 0 ? 'no' : many} ${noun}${many === 1 ? '' : 's'}`;
};
