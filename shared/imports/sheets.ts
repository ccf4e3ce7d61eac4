/** The tables of old records that can be brought in, and the columns each may have. */
export const sheetKinds = ['ferments', 'lots', 'pitches', 'readings', 'counts'] as const;
export type SheetKind = (typeof sheetKinds)[number];

export type SheetColumn = {
  key: string;
  label: string;
  isNeeded: boolean;
  /** Other headings it is known by, in small letters. */
  also: readonly string[];
};

const column = (key: string, label: string, ...also: string[]): SheetColumn => ({
  key,
  label,
  isNeeded: false,
  also,
});
const needed = (key: string, label: string, ...also: string[]): SheetColumn => ({
  ...column(key, label, ...also),
  isNeeded: true,
});

const gyle = needed('gyle', 'Gyle', 'gyle number', 'gyle no', 'batch', 'brew', 'brew no');
const by = column('by', 'Who', 'by', 'brewer', 'initials');
const note = column('note', 'Note', 'notes', 'remarks', 'comment');

export const sheetColumns: Record<SheetKind, readonly SheetColumn[]> = {
  ferments: [
    gyle,
    needed('beer', 'Beer', 'brand'),
    needed('vessel', 'FV', 'fermenter', 'vessel', 'tank'),
    needed('strain', 'Strain', 'yeast', 'yeast strain'),
    needed('collectedAt', 'Collected', 'collected at', 'brew date', 'date', 'when'),
    needed('volume', 'Volume', 'volume collected', 'length'),
    needed('og', 'OG', 'original gravity'),
    column('setTemp', 'Set temperature', 'set temp', 'temp'),
    column('oxygen', 'Dissolved oxygen mg/L', 'oxygen', 'do'),
    column('zinc', 'Zinc mg/L', 'zinc'),
    column('chilledAt', 'Chilled', 'chilled at'),
    column('rackedAt', 'Racked', 'racked at', 'rack date'),
    column('rackGravity', 'Gravity at racking', 'fg', 'final gravity', 'racking gravity'),
    column('batches', 'Cask batches', 'casks', 'batches'),
    by,
    note,
  ],
  lots: [
    needed('code', 'Lot code', 'code', 'lot'),
    needed('strain', 'Strain', 'yeast', 'yeast strain'),
    needed('takenAt', 'Taken', 'cropped', 'received', 'date', 'when'),
    needed('amount', 'Amount', 'quantity'),
    column('gyle', 'From gyle', 'gyle', 'cropped from'),
    column('cut', 'Cut', 'skim'),
    column('generation', 'Generation', 'gen'),
    column('goneAt', 'Used up or thrown away', 'gone', 'discarded', 'finished'),
    column('place', 'Place', 'store'),
    by,
    note,
  ],
  pitches: [
    gyle,
    needed('lot', 'Lot code', 'lot', 'code', 'yeast lot'),
    needed('amount', 'Amount', 'quantity', 'pitched'),
    needed('pitchedAt', 'Pitched', 'pitched at', 'date', 'when'),
    by,
    note,
  ],
  readings: [
    gyle,
    needed('at', 'Read', 'read at', 'date', 'time', 'date and time', 'when'),
    column('gravity', 'Gravity', 'pg', 'sg', 'present gravity', 'reading'),
    column('temp', 'Temperature', 'temp'),
    column('ph', 'pH', 'ph'),
    column('cells', 'Cells in suspension, million/mL', 'cells'),
    by,
    note,
  ],
  counts: [
    needed('lot', 'Lot code', 'lot', 'code'),
    needed('at', 'Counted', 'counted at', 'date', 'when'),
    column('squares', 'Cells in each square', 'squares', 'cells'),
    column('dilution', 'Dilution factor', 'dilution'),
    column('chamber', 'Chamber'),
    column('stain', 'Stain'),
    column('live', 'Live', 'unstained'),
    column('dead', 'Dead', 'stained'),
    by,
    note,
  ],
};
