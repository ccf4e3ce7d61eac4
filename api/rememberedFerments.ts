import {
  type BandQuestion,
  type FermentModels,
  fermentModels,
} from '#shared/ferments/fermentModels.ts';
import { remembered } from '#shared/remembered.ts';
import { usualFlagLine } from '#shared/science/slowFerment.ts';

/** Enough for all ferments that set the bands of a few strains and for the lines shown beside them. */
const mostCurves = 1500;
const mostBands = 256;
/** The hours of a chart, and those of its readings. */
const mostHours = 300;

const band = remembered((question: BandQuestion) => {
  const made = fermentModels.band(question);
  return { ...made, at: remembered(made.at, mostHours) };
}, mostBands);

/** The sums about ferments, each made once in the life of the process. */
export const rememberedFerments: FermentModels = {
  curve: remembered(fermentModels.curve, mostCurves),
  past: remembered(fermentModels.past, mostBands),
  band,
  line: remembered((question) => usualFlagLine(band(question)), mostBands),
};
