import { hostname, networkInterfaces } from 'node:os';

/**
 * Whether a name in the Host header is one of this machine, or one it was told to answer to. A page
 * of another site whose name was made to lead here is refused by this.
 */
export function ownHosts(also: readonly string[] = []): (host: string) => boolean {
  const self = hostname().toLowerCase();
  const names = new Set([
    'localhost',
    '127.0.0.1',
    '::1',
    self,
    `${self}.local`,
    ...also.map((name) => name.toLowerCase()),
  ]);
  return (host) => {
    const name = nameOf(host);
    return name !== undefined && (names.has(name) || ownAddresses().has(name));
  };
}

/** The host without its port, in small letters; undefined when it is none. */
function nameOf(host: string): string | undefined {
  const match = /^(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(?::\d{1,5})?$/.exec(host.toLowerCase());
  return match?.[1]?.replace(/^\[|\]$/g, '');
}

// Asked anew each time: a machine may be given another address while this runs.
function ownAddresses(): Set<string> {
  const held = Object.values(networkInterfaces()).flatMap((addresses) => addresses ?? []);
  return new Set(held.map(({ address }) => address.toLowerCase()));
}

/** An address of the machine itself. */
export const isLoopback = (address: string) =>
  address === '::1' || /^(::ffff:)?127\.\d+\.\d+\.\d+$/.test(address);
