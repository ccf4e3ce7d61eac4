/** The short lists of words used alike by entries, columns and select boxes. */
export const cropKinds = ['top', 'bottom'] as const;
export const freshOrigins = ['slope', 'propagation', 'bought', 'other'] as const;
/** Where fresh culture of a strain comes from: woken at home and stepped up, or ordered. */
export const freshSources = ['slope', 'bought'] as const;
export const cuts = ['skim 1', 'skim 2', 'later skim', 'cone'] as const;
export const countBases = ['mL', 'g'] as const;
export const treatmentKinds = ['acid wash', 'dilution', 'feed', 'sieving'] as const;
export const microOutcomes = ['clear', 'found', 'discard'] as const;
/** What is read: colonies against the cells plated, their share, or only whether it is there. */
export const plateReadings = ['colonies', 'share', 'presence'] as const;
export type PlateReading = (typeof plateReadings)[number];
/** A plate taken as a matter of course, or because something seemed wrong. */
export const checkPurposes = ['routine', 'suspicion'] as const;
/** What a routine plate that is not yet read does to its lot. */
export const pendingCheckPolicies = ['warn', 'hold'] as const;
export type PendingCheckPolicy = (typeof pendingCheckPolicies)[number];
export const volumeUnits = ['L', 'hL', 'UK brl', 'US bbl'] as const;
export const massUnits = ['kg', 'lb'] as const;
export const gravityUnits = ['SG', '°P'] as const;
export const temperatureUnits = ['°C', '°F'] as const;
export const budRules = ['half the mother or larger', 'every bud', 'no bud'] as const;
export const edgeRules = ['top and left in', 'bottom and left in', 'top and right in'] as const;
