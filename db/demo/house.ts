import type { EntryOf } from '#shared/entries/entry.ts';
import type { Calendar } from './calendar.ts';
import { demoTimeZone } from './calendar.ts';
import { type Log, stamp } from './log.ts';

/** The people of the invented brewery. */
export const people = { head: 'Ines', brewer: 'Tom', cellar: 'Maeve', lab: 'Jory' } as const;

/** A UK barrel of 36 imperial gallons [L]. */
const brlL = 163.65924;

const strainFacts = {
  Tern: {
    code: 'TN',
    crops: 'top',
    rateMillionPerMlPerPlato: 0.75,
    tempLowC: 15.5,
    tempHighC: 21.5,
    maxGenerations: 10,
    maxStorageDays: 6,
    storeLowC: 1,
    storeHighC: 4,
    minViabilityPercent: 90,
    staleCountHours: 24,
    leadTimeDays: 14,
    note: 'The house yeast. Heavy head, drops bright.',
  },
  Fulmar: {
    code: 'FM',
    crops: 'top',
    rateMillionPerMlPerPlato: 0.75,
    tempLowC: 16,
    tempHighC: 22.5,
    maxGenerations: 12,
    maxStorageDays: 7,
    storeLowC: 1,
    storeHighC: 4,
    minViabilityPercent: 88,
    staleCountHours: 24,
    leadTimeDays: 16,
    note: 'For dark and strong beers. Run off into the yeast back as slurry.',
  },
} as const;

export type StrainName = keyof typeof strainFacts;

export type Strain = {
  id: string;
  name: StrainName;
  code: string;
  rateMillionPerMlPerPlato: number;
  /** Tern is weighed as barm, Fulmar measured as slurry. */
  unit: 'kg' | 'L';
  /** All cells in a usual crop [per g or per mL]. */
  cellsPerGOrMl: number;
  /** Share of living cells lost per day in store [1/d]. */
  lossPerDay: number;
  attenuation: number;
  /** Half of the fall is usually done by here [h], with the slope [1/h] of the curve there. */
  halfTimeHours: number;
  slopePerHour: number;
};

const conduct: Record<
  StrainName,
  Omit<Strain, 'id' | 'name' | 'code' | 'rateMillionPerMlPerPlato'>
> = {
  Tern: {
    unit: 'kg',
    cellsPerGOrMl: 1.9e9,
    lossPerDay: 0.007,
    attenuation: 0.757,
    halfTimeHours: 28,
    slopePerHour: 0.115,
  },
  Fulmar: {
    unit: 'L',
    cellsPerGOrMl: 1.25e9,
    lossPerDay: 0.008,
    attenuation: 0.722,
    halfTimeHours: 31,
    slopePerHour: 0.105,
  },
};

export type Beer = {
  name: string;
  strain: StrainName;
  originalGravitySg: number;
  setTempC: number;
};

export const beers = {
  bitter: { name: 'Headland Bitter', strain: 'Tern', originalGravitySg: 1.04, setTempC: 16.5 },
  pale: { name: 'Slack Water Pale', strain: 'Tern', originalGravitySg: 1.038, setTempC: 16.5 },
  gold: { name: 'Sarn Point Gold', strain: 'Tern', originalGravitySg: 1.0425, setTempC: 16 },
  mild: { name: 'Groyne Mild', strain: 'Tern', originalGravitySg: 1.0345, setTempC: 17 },
  porter: { name: 'Tarred Rope Porter', strain: 'Fulmar', originalGravitySg: 1.05, setTempC: 17.5 },
  stout: { name: 'Keelson Stout', strain: 'Fulmar', originalGravitySg: 1.0475, setTempC: 17.5 },
  strong: { name: 'Undertow', strain: 'Fulmar', originalGravitySg: 1.0545, setTempC: 17 },
} as const satisfies Record<string, Beer>;

export type Vessel = { id: string; name: string; brewLengthL: number; freeFromMs: number };

const vesselSizes = {
  FV1: 10 * brlL,
  FV2: 10 * brlL,
  FV3: 15 * brlL,
  FV4: 20 * brlL,
  FV5: 5 * brlL,
  FV6: 4000,
} as const;

export type VesselName = keyof typeof vesselSizes;

export type House = {
  strains: Record<StrainName, Strain>;
  vessels: Record<VesselName, Vessel>;
};

/** Writes down the brewery, its strains and fermenters, on a day before the first brew. */
export function setUpHouse(log: Log, calendar: Calendar, day: number): House {
  const at = (hour: number) => stamp(calendar.at(day, hour), people.head);
  log.write({ ...breweryFacts, ...at(9) });
  const strain = (name: StrainName, hour: number): Strain => {
    const facts = strainFacts[name];
    const { code, rateMillionPerMlPerPlato } = facts;
    const id = log.write({ kind: 'strain', ...at(hour), name, ...facts });
    return { id, name, code, rateMillionPerMlPerPlato, ...conduct[name] };
  };
  const vessel = (name: VesselName, hour: number): Vessel => {
    const brewLengthL = vesselSizes[name];
    const capacityL = Math.round(brewLengthL);
    const id = log.write({ kind: 'vessel', ...at(hour), name, capacityL });
    return { id, name, brewLengthL, freeFromMs: calendar.at(day, hour) };
  };
  return {
    strains: { Tern: strain('Tern', 9.1), Fulmar: strain('Fulmar', 9.2) },
    vessels: {
      FV1: vessel('FV1', 9.3),
      FV2: vessel('FV2', 9.35),
      FV3: vessel('FV3', 9.4),
      FV4: vessel('FV4', 9.45),
      FV5: vessel('FV5', 9.5),
      FV6: vessel('FV6', 9.55),
    },
  };
}

const breweryFacts: Omit<EntryOf<'brewery'>, 'happenedAt' | 'by'> = {
  kind: 'brewery',
  name: 'Wrackstone Harbour Brewery',
  timeZone: demoTimeZone,
  firstGeneration: 0,
  volumeUnit: 'L',
  massUnit: 'kg',
  gravityUnit: 'SG',
  temperatureUnit: '°C',
  budRule: 'half the mother or larger',
  edgeRule: 'top and left in',
  chamberCvPercent: 4.6,
  pipettingCvPercent: 4.7,
};
