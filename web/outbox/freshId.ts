import { uuidV7 } from '#shared/uuid.ts';

/** A new id for an entry made on this device. */
export const freshId = () => uuidV7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));
