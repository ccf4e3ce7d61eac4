import { useRef, useState } from 'preact/hooks';
import type { ImportRequest } from '#shared/imports/request.ts';
import type { SheetKind } from '#shared/imports/sheets.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { type ImportPreview, previewImport, putImport } from '../../importsClient.ts';
import type { Problem } from '../../server.ts';
import { setup, units } from '../../settings.ts';
import { siteStart } from '../form/siteField.ts';

export type ChosenFile = {
  name: string;
  kind: SheetKind;
  csv: string;
  /** Undefined until it is changed by hand: plain headings are found by themselves. */
  mapping: Record<string, string> | undefined;
};
export type ImportUnits = ImportRequest['sheets'][number]['units'];

/** Files of old records on their way in: chosen, matched, tried after every change, brought in once. */
export function useImport(onDone: (entries: number) => void) {
  const [files, setFiles] = useState<readonly ChosenFile[]>([]);
  const [chosenUnits, setUnits] = useState<ImportUnits>(usualUnits);
  const [preview, setPreview] = useState<ImportPreview | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [isBusy, setBusy] = useState(false);
  const turn = useRef(0);
  const id = useRef(newId());

  // Until it is chosen here, the site the pages show, once that is known.
  const site = useRef<string | undefined>(undefined);
  const siteId = () => (site.current ?? siteStart()) || undefined;
  const requestOf = (sheets: readonly ChosenFile[], inUnits: ImportUnits): ImportRequest => ({
    siteId: siteId(),
    sheets: sheets.map(({ kind, csv, mapping }) => ({ kind, csv, mapping, units: inUnits })),
  });
  const look = async (sheets: readonly ChosenFile[], inUnits: ImportUnits) => {
    turn.current += 1;
    const own = turn.current;
    setFiles(sheets);
    setUnits(inUnits);
    setPreview(null);
    setProblem(null);
    if (sheets.length === 0) return;
    setBusy(true);
    const result = await previewImport(requestOf(sheets, inUnits));
    if (own !== turn.current) return;
    setBusy(false);
    if ('problem' in result) setProblem(result.problem);
    else setPreview(result.answer);
  };
  const change = (at: number, to: Partial<ChosenFile>) =>
    look(
      files.map((file, index) => (index === at ? { ...file, ...to } : file)),
      chosenUnits,
    );
  return {
    files,
    units: chosenUnits,
    preview,
    problem,
    isBusy,
    // The same file again is the one that was mended: how its columns were matched stays.
    add: (file: ChosenFile) => look(withFile(files, file), chosenUnits),
    remove: (at: number) =>
      look(
        files.filter((_, index) => index !== at),
        chosenUnits,
      ),
    change,
    siteId: siteId(),
    setSite: (id: string) => {
      site.current = id;
      void look(files, chosenUnits);
    },
    setUnits: (to: Partial<ImportUnits>) => look(files, { ...chosenUnits, ...to }),
    bringIn: async () => {
      setBusy(true);
      const result = await putImport(id.current, requestOf(files, chosenUnits));
      setBusy(false);
      if ('problem' in result) return setProblem(result.problem);
      id.current = newId();
      setFiles([]);
      setPreview(null);
      onDone(result.answer.entries);
    },
  };
}

export type Import = ReturnType<typeof useImport>;

function withFile(files: readonly ChosenFile[], added: ChosenFile): ChosenFile[] {
  const isSame = ({ name, kind }: ChosenFile) => name === added.name && kind === added.kind;
  if (!files.some(isSame)) return [...files, added];
  return files.map((file) => (isSame(file) ? { ...added, mapping: file.mapping } : file));
}

const newId = () => uuidV7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));

const usualUnits = (): ImportUnits => ({
  volume: units.value.volume,
  amount: 'L',
  gravity: units.value.gravity === 'SG' ? 'sg' : 'plato',
  temperature: units.value.temperature,
  dateOrder: 'day first',
  timeZone: setup.value?.brewery?.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
});
