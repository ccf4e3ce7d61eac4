import type { RecordEntry } from '../entries/entry.ts';
import type { Site } from '../sites/site.ts';

export type LotFacts = {
  code: string;
  strainId: string;
  happenedMs: number;
  unit: 'L' | 'kg';
  left: number;
  isUsed: boolean;
  /** Null for the first site. */
  siteId: string | null;
};

export type FermentFacts = {
  gyle: string;
  strainId: string;
  happenedMs: number;
  originalGravitySg: number;
  pitchedMs: number | null;
  rackedMs: number | null;
  hasCrops: boolean;
  siteId: string | null;
};

export type PlannedBrewFacts = {
  beer: string;
  onDay: string;
  strainId: string;
  siteId: string | null;
  /** The gyle that names it as what it carries out. */
  carriedOutBy: { id: string; gyle: string; siteId: string | null } | undefined;
};

type VesselFacts = {
  name: string;
  siteId: string | null;
  hasFerments: boolean;
};

type Neighbour = { gyle: string; happenedMs: number; rackedMs: number | null };

/** The gyles that share a fermenter with one, by when they were in it. */
export type Neighbours = {
  vessel: string;
  /** One collected no later and not racked yet. */
  running: Neighbour | undefined;
  /** The last one collected no later. */
  before: Neighbour | undefined;
  /** The first one collected afterwards. */
  next: Neighbour | undefined;
};

/** What comes in together with an entry; undefined for one that is entered alone. */
export type Alongside = { rackedMs: number | undefined };

/** Something recorded that rests on the record of an entry, and so cannot come before it. */
export type LaterFact = {
  atMs: number;
  what: 'pitched' | 'cropped' | 'counted' | 'stained' | 'checked' | 'treated' | 'taken from';
};

export type GravityFacts = { happenedMs: number; gravitySg: number };

/** What is known about the records an entry speaks of; undefined when there is no such record. */
export type EntryContext = {
  receivedMs: number;
  isCorrection: boolean;
  /** The lots named, by id. */
  lots: ReadonlyMap<string, LotFacts>;
  /** Why each of them that is on hold is, for the kinds of entry that would use it. */
  held: ReadonlyMap<string, string>;
  ferment: FermentFacts | undefined;
  strain: { name: string } | undefined;
  vessel: VesselFacts | undefined;
  /** For a gyle and for its racking: who else was in its fermenter. */
  neighbours: Neighbours | undefined;
  alongside: Alongside | undefined;
  /** Every site, for the kinds of entry in which two could meet. */
  sites: readonly Site[];
  check: { happenedMs: number } | undefined;
  /** The gravity of the ferment last read up to the time of a reading. */
  gravityBefore: GravityFacts | undefined;
  /** The hold of a family that is to be lifted, and the release that lifted it already. */
  familyHold: { happenedMs: number; releaseId: string | null } | undefined;
  /** Why the lot should not be acid washed. */
  washObjections: readonly string[];
  /** The planned brews named, and the one that is corrected, by id. */
  plannedBrews: ReadonlyMap<string, PlannedBrewFacts>;
  /** The record that already holds the policy on fresh culture of the strain. */
  policyId: string | undefined;
  /** The record corrected, as it stood. */
  before: RecordEntry | undefined;
  recordId: string;
  /** The earliest of what rests on the record; undefined while nothing does. */
  firstResting: LaterFact | undefined;
  hasBrewery: boolean;
};
