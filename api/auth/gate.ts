import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import { matchedRoutes } from 'hono/route';
import { minuteMs } from '#shared/durations.ts';
import { DomainError } from '#shared/errors.ts';
import { isOneOf, yours } from '#shared/permissions.ts';
import { rolesAnywhere } from '#shared/roles.ts';
import type { RouteDoc } from '../apiDocument.ts';
import type { Services } from '../context.ts';
import { RequestError } from '../problem.ts';
import { addressOf, type Caller, findDevice, findFeed, findPerson, signedOut } from './caller.ts';
import { createLimiter } from './limiter.ts';
import { limitOf } from './limitOf.ts';
import { readers } from './who.ts';

/** How old the giving of the password may be for accounts and tokens. */
const proofMs = 5 * minuteMs;

type RouteTable = ReadonlyMap<string, RouteDoc>;

/** The routes by what Hono calls them: `GET /api/lots/:id/standing`. */
export function routeTable(rows: readonly RouteDoc[]): RouteTable {
  return new Map(rows.map((row) => [`${row.method.toUpperCase()} ${honoPath(row.path)}`, row]));
}

const honoPath = (path: string) => path.replace(/\{(\w+)\}/g, ':$1');

/** @throws Error when a route that is served says nowhere who may call it */
export function assertComplete(
  served: readonly { method: string; path: string }[],
  table: RouteTable,
): void {
  const missing = served
    .filter(({ method }) => method !== 'ALL')
    .map(({ method, path }) => `${method} ${path}`)
    .filter((name) => !table.has(name));
  if (missing.length > 0)
    throw new Error(`These routes do not say who may call them: ${missing.join(', ')}`);
}

/** The row of the route that will answer; undefined for pages and for what is not served. */
export function rowOf(context: Context, table: RouteTable): RouteDoc | undefined {
  const [first] = matchedRoutes(context).filter(({ method }) => method !== 'ALL');
  return first && table.get(`${first.method} ${first.path}`);
}

/** Lets a request through to its route only for those the table names. */
export function gate({ database, now, limits }: Services, table: RouteTable) {
  const allow = createLimiter(now);
  return createMiddleware(async (context, next) => {
    const row = rowOf(context, table);
    if (row === undefined && context.req.path.startsWith('/api/'))
      throw new DomainError('not_found', 'There is nothing at this address.');
    if (row !== undefined) context.set('caller', await admitted(row, context));
    await next();
  });

  async function admitted(row: RouteDoc, context: Context): Promise<Caller | undefined> {
    if (row.who === 'anyone') {
      count(row, addressOf(context) ?? '');
      return undefined;
    }
    if (row.who === 'device') {
      const sensor = await findDevice(database, context, now());
      if (sensor === undefined) throw noToken();
      count(row, sensor.device.id);
      return sensor;
    }
    if (row.who === 'feed key') {
      const feed = orSignedOut(await findFeed(database, context, now()));
      count(row, feed.account.id);
      return feed;
    }
    const person = orSignedOut(await findPerson(database, context, now()));
    count(row, person.session.id);
    // What is read, and what is checked again at the site it is written at, takes a role anywhere.
    const roles =
      row.who === readers || row.atSite === true
        ? rolesAnywhere(person.account)
        : person.account.roles;
    if (!isOneOf({ roles }, row.who))
      throw new RequestError(
        'forbidden',
        `This needs the role ${row.who.join(' or ')}; ${yours(roles)}.`,
      );
    if (row.proof === true && Math.abs(now() - person.session.provedMs) > proofMs)
      throw new RequestError('prove_again', 'Give your password again to go on.');
    return person;
  }

  /** @throws RequestError `too_many` when this caller asks for more than the limit of the route */
  function count(row: RouteDoc, caller: string): void {
    const name = limitOf(row);
    if (limits !== undefined && name !== undefined) allow(caller, limits[name]);
  }
}

const noToken = () =>
  new RequestError(
    'signed_out',
    'Show the token of the device: in the Authorization header, or as token in the JSON body.',
  );

function orSignedOut<T>(caller: T | undefined): T {
  if (caller === undefined) throw signedOut();
  return caller;
}
