import { FV_COUNT_WITHIN_HOURS } from '#shared/lots/strainHistory.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';

/** Pitched so lately that no bud is yet a cell. */
export const isCountable = ({ hoursSincePitch }: FermentStanding) =>
  hoursSincePitch !== null && hoursSincePitch <= FV_COUNT_WITHIN_HOURS;
