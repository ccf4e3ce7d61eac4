import { petiteRules, viabilityRules } from './lotConditionRules.ts';
import { amountRules, countRules } from './lotCountRules.ts';
import type { LotRule } from './lotFacts.ts';
import { holdRules } from './lotHoldRules.ts';
import { ageRules, storageRules, temperatureRules } from './lotKeepingRules.ts';
import { washRules } from './lotWashRules.ts';

/** Everything that speaks for or against pitching a lot. */
export const lotRules: readonly LotRule[] = [
  ...holdRules,
  ...viabilityRules,
  ...petiteRules,
  ...countRules,
  ...storageRules,
  ...washRules,
  ...temperatureRules,
  ...ageRules,
  ...amountRules,
];
