import { excessDegreesFromSg } from '#shared/science/gravity.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import { cropWindow } from './cropWindow.ts';

type Cropped = Pick<
  FermentStanding,
  'state' | 'crops' | 'hoursSincePitch' | 'apparentAttenuationPercent'
> & {
  strain: Pick<FermentStanding['strain'], 'crops'>;
  record: Pick<FermentStanding['record'], 'originalGravitySg'>;
};

export type CropTurn =
  /** The yeast to keep stands now. */
  | { turn: 'due' }
  /** Hours [h] still to pass, and the gravity [SG] it must have come down to. */
  | { turn: 'not yet'; hoursLeft: number; fromGravitySg: number; isDownEnough: boolean }
  /** Of a bottom cropper: its cone is drawn once it is chilled. */
  | { turn: 'when chilled' }
  /** Cropped already, or a head that was not taken in its time: there may be more to take. */
  | { turn: 'past' };

/** Whether a ferment is to be cropped now, or what it waits for; for one that has its yeast and is not racked. */
export function cropTurn(ferment: Cropped): CropTurn {
  const { state, strain, crops, hoursSincePitch, apparentAttenuationPercent } = ferment;
  if (crops.length > 0) return { turn: 'past' };
  if (strain.crops === 'bottom')
    return state === 'chilled' ? { turn: 'due' } : { turn: 'when chilled' };
  if (state !== 'fermenting') return { turn: 'past' };
  const { fromHours, fromAttenuationPercent } = cropWindow;
  const hoursLeft = Math.max(0, fromHours - (hoursSincePitch ?? 0));
  const isDownEnough = (apparentAttenuationPercent ?? 0) >= fromAttenuationPercent;
  if (hoursLeft === 0 && isDownEnough) return { turn: 'due' };
  const degrees = excessDegreesFromSg(ferment.record.originalGravitySg);
  const fromGravitySg = 1 + (degrees * (1 - fromAttenuationPercent / 100)) / 1000;
  return { turn: 'not yet', hoursLeft, fromGravitySg, isDownEnough };
}
