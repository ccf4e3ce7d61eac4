import { signal } from '@preact/signals';
import { keep, kept } from '../../deviceMemory.ts';

const keptName = 'barmbook.address';

/** Where phones reach Barmbook, when it is not where this page was opened; empty when it is. */
export const ownAddress = signal(kept(keptName) ?? '');

export function keepOwnAddress(typed: string): void {
  ownAddress.value = typed.trim();
  keep(keptName, ownAddress.value === '' ? null : ownAddress.value);
}

const parsed = (address: string) => (URL.canParse(address) ? new URL(address) : null);

/** A host that every device understands as itself: a label with it leads nowhere on a phone. */
export function isLoopback(address: string): boolean {
  const url = parsed(address);
  return url !== null && /^(localhost|.*\.localhost|127(\.\d+){3}|\[::1\])$/.test(url.hostname);
}

/** Why a typed address cannot be used; undefined when it can. */
export function addressProblem(typed: string): string | undefined {
  if (typed === '') return undefined;
  const url = parsed(typed);
  return url !== null && /^https?:$/.test(url.protocol)
    ? undefined
    : 'Write the whole address, such as http://192.168.1.20:4180';
}

/** The page of a lot, as its label holds it. */
export function lotAddress(lotId: string, pageOrigin: string, typed: string): string {
  const url = addressProblem(typed) === undefined ? parsed(typed) : null;
  return `${url?.origin ?? pageOrigin}/yeast/${lotId}`;
}

const lotPath = /^\/yeast\/([0-9a-f-]{36})$/i;

/** The lot a scanned label speaks of, whatever address it was printed with. */
export function lotOfAddress(scanned: string): string | undefined {
  return lotPath.exec(parsed(scanned)?.pathname ?? '')?.[1]?.toLowerCase();
}
