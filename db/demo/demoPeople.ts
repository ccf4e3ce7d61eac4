import type { InStatement } from '@libsql/client';
import { accountStatements } from '#db/people/accounts.ts';
import type { Role } from '#shared/roles.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { people } from './house.ts';
import { seeded } from './seeded.ts';

/** Told to everyone on the demo's page for signing in; no other file holds these accounts. */
export const demoPassword = 'skim-at-high-tide';
export const demoPasswordHash =
  '$argon2id$v=19$m=65536,t=3,p=1$6TAvOcurkB66F9sgnLsRig$FbvUuu6+7K5haxYF7S2Q4QSbUn4WCC4G7GjxfQ38w88';

export const demoPeople: readonly { userName: string; name: string; roles: readonly Role[] }[] = [
  { userName: 'ines', name: people.head, roles: ['head'] },
  { userName: 'tom', name: people.brewer, roles: ['brewer'] },
  { userName: 'maeve', name: people.cellar, roles: ['cellar'] },
  { userName: 'jory', name: people.lab, roles: ['lab'] },
  { userName: 'wyn', name: 'Wyn', roles: ['viewer'] },
];

/** The user name of who wrote an entry of the demo down: those who did it wrote it down. */
export const demoActor = (name: string) =>
  demoPeople.find((person) => person.name === name)?.userName ?? 'demo';

export function demoAccounts(nowMs: number): InStatement[] {
  const chance = seeded('accounts');
  return demoPeople.flatMap((person) =>
    accountStatements({
      ...person,
      id: uuidV7(nowMs, Uint8Array.from({ length: 10 }, chance.byte)),
      passwordHash: demoPasswordHash,
      createdMs: nowMs,
    }),
  );
}
