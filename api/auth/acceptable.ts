import type { Database } from '#db/database.ts';
import { DomainError } from '#shared/errors.ts';
import type { Role } from '#shared/roles.ts';
import { breweryOf } from '../standings.ts';
import { passwordRefusal } from './passwordRules.ts';

/** @throws DomainError `invalid` with why the password will not do */
export async function acceptable(
  database: Database,
  password: string,
  person: { userName: string; name: string; roles: readonly Role[] },
): Promise<void> {
  const breweryName = (await breweryOf(database))?.name ?? '';
  const message = passwordRefusal(password, { ...person, breweryName });
  if (message !== undefined)
    throw new DomainError('invalid', `${message}.`, [{ path: 'password', message }]);
}
