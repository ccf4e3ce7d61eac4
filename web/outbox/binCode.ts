import { lotCode } from '#shared/lotCode.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';

/**
 * The next free code of a crop as far as this device knows, so that the bin can bear it at once
 * where the log cannot be asked; should it be taken, the log refuses it and a person settles it.
 */
export function binCode({ strain, record, crops }: FermentStanding): string {
  const borne = new Set(crops.map(({ code }) => code));
  return lotCode({ kind: 'crop', strainCode: strain.code, gyle: record.gyle }, (code) =>
    borne.has(code),
  );
}
