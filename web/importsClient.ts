import type { ImportRequest } from '#shared/imports/request.ts';
import { type Answered, asked, read, server, until } from './server.ts';

export type ImportPreview = Answered<typeof previewImport>;
export type ImportRun = Awaited<ReturnType<typeof fetchImports>>[number];

export const fetchImports = async (signal?: AbortSignal) =>
  (await read(server.imports.$get({}, until(signal)))).items;
/** Tries files of old records; nothing is written. */
export const previewImport = (json: ImportRequest) =>
  asked(server.imports.preview.$post({ json }, until(AbortSignal.timeout(120_000))));
/** Brings files of old records in, all or nothing. */
export const putImport = (id: string, json: ImportRequest) =>
  asked(server.imports[':id'].$put({ param: { id }, json }, until(AbortSignal.timeout(120_000))));
export const undoImport = (id: string, json: { reason: string }) =>
  asked(server.imports[':id'].undo.$post({ param: { id }, json }, until(undefined)));
