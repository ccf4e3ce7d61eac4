import { expect, test } from 'vitest';
import type { Entry } from '#shared/entries/entry.ts';
import { at, nextId } from '../support/brewery.ts';
import { theirApi } from './twoSites.ts';

const by = 'Sam';

test('a role held at one site counts there and nowhere else', async () => {
  const { signIn, put, weir, weirFerment, ferment, crop, sent } = await theirApi();
  const sam = await signIn('sam', [], [{ siteId: weir.id, role: 'brewer' }]);
  const reading = { kind: 'reading', happenedAt: at(50), by, tempC: 20 } as const;
  expect(await put(sam, { ...reading, fermentId: weirFerment.id })).toBe(201);
  expect(await put(sam, { ...reading, fermentId: ferment.id })).toBe(403);
  const discard = { kind: 'discard', happenedAt: at(51), by, amountKg: 1, why: 'Old' } as const;
  expect(await put(sam, { ...discard, lotId: sent.id })).toBe(201);
  expect(await put(sam, { ...discard, lotId: crop.id })).toBe(403);
});

test('an FV, a plan and what is sent each take a role at their own site', async () => {
  const { signIn, put, home, weir, strain, crop, sent } = await theirApi();
  const sam = await signIn('sam', [], [{ siteId: weir.id, role: 'brewer' }]);
  const now = { happenedAt: at(50), by };
  expect(await put(sam, { kind: 'vessel', ...now, name: 'FV7', siteId: weir.id })).toBe(201);
  expect(await put(sam, { kind: 'vessel', ...now, name: 'FV8', siteId: home.id })).toBe(403);
  expect(await put(sam, { kind: 'vessel', ...now, name: 'FV8' })).toBe(403);
  const brew = { onDay: '2026-03-12', beer: 'Pale', volumeL: 900, originalGravitySg: 1.04 };
  const plan = { kind: 'plannedBrew', ...now, ...brew, strainId: strain.id } as const;
  expect(await put(sam, { ...plan, siteId: weir.id })).toBe(201);
  expect(await put(sam, plan)).toBe(403);
  const send = { kind: 'transfer', ...now, amountKg: 1 } as const;
  expect(await put(sam, { ...send, lotId: crop.id, toSiteId: weir.id })).toBe(403);
  expect(await put(sam, { ...send, lotId: sent.id, toSiteId: home.id })).toBe(201);
});

test('what all sites share takes a role held at every one', async () => {
  const { signIn, put, weir, send } = await theirApi();
  const kim = await signIn('kim', [], [{ siteId: weir.id, role: 'head' }]);
  const ines = await signIn('ines', ['head'], []);
  const site = { kind: 'site', happenedAt: at(50), by, name: 'Mill', code: 'M' } as const;
  expect(await put(kim, site)).toBe(403);
  expect((await send('GET', '/api/people', kim)).status).toBe(403);
  expect(await put(ines, site)).toBe(201);
  expect((await send('GET', '/api/people', ines)).status).toBe(200);
});

test('a correction takes a role where the record stands and where it is to go', async () => {
  const { signIn, put, home, weir, weirFv1, fv2 } = await theirApi();
  const kim = await signIn('kim', [], [{ siteId: weir.id, role: 'head' }]);
  const change = { kind: 'vessel', happenedAt: at(50), by, reason: 'Repainted' } as const;
  const fv = { ...change, name: 'FV one' };
  expect(await put(kim, { ...fv, siteId: weir.id, supersedes: fv2.id })).toBe(403);
  expect(await put(kim, { ...fv, siteId: home.id, supersedes: weirFv1.id })).toBe(403);
  expect(await put(kim, { ...fv, siteId: weir.id, supersedes: weirFv1.id })).toBe(201);
  const strike = { kind: 'void', happenedAt: at(51), by, reason: 'By mistake' } as const;
  expect(await put(kim, { ...strike, supersedes: fv2.id })).toBe(403);
});

test('what was struck out at one site is not brought back at another by its head brewer', async () => {
  const { signIn, send, home, weir, crop } = await theirApi();
  const kim = await signIn('kim', [], [{ siteId: weir.id, role: 'head' }]);
  const ines = await signIn('ines', ['head'], []);
  const put = async (as: { cookie: string }, entry: Entry) => {
    const id = nextId();
    return { id, ...(await send('PUT', `/api/entries/${id}`, as, entry)) };
  };
  const now = { happenedAt: at(50), by };
  const fv9 = { kind: 'vessel', ...now, name: 'FV9' } as const;
  const strike = { kind: 'void', ...now, reason: 'Never bought' } as const;
  const again = { supersedes: '', reason: 'It was bought' };
  const made = await put(ines, { ...fv9, siteId: home.id });
  again.supersedes = (await put(ines, { ...strike, supersedes: made.id })).id;
  expect((await put(kim, { ...fv9, siteId: weir.id, ...again })).status).toBe(403);
  expect((await put(ines, { ...fv9, siteId: home.id, ...again })).status).toBe(201);
  const theirs = await put(kim, { ...fv9, siteId: weir.id });
  again.supersedes = (await put(kim, { ...strike, supersedes: theirs.id })).id;
  expect((await put(kim, { ...fv9, siteId: weir.id, ...again })).status).toBe(201);
  // What was sent is where it went, not where it came from.
  const send1 = {
    kind: 'transfer',
    ...now,
    amountKg: 1,
    lotId: crop.id,
    toSiteId: weir.id,
  } as const;
  const load = await put(ines, send1);
  again.supersedes = (await put(ines, { ...strike, supersedes: load.id })).id;
  const lou = await signIn('lou', [], [{ siteId: home.id, role: 'head' }]);
  expect((await put(lou, { ...send1, ...again })).status).toBe(403);
  expect((await put(ines, { ...send1, ...again })).status).toBe(201);
});

test('each screen shows the site asked for, else the first the person has a role at', async () => {
  const { signIn, send, home, weir, fresh, crop, sent, fv1, fv2, weirFv1, ferment, weirFerment } =
    await theirApi();
  const sam = await signIn('sam', [], [{ siteId: weir.id, role: 'brewer' }]);
  const ines = await signIn('ines', ['head'], []);
  const ids = async (path: string, as = ines) => {
    const { status, body } = await send('GET', path, as);
    expect(status).toBe(200);
    return (body.items ?? body.vessels).map(({ id }: { id: string }) => id).sort();
  };
  const both = [fresh.id, crop.id].sort();
  expect(await ids('/api/lots/in-store')).toEqual(both);
  expect(await ids('/api/lots/in-store', sam)).toEqual([sent.id]);
  expect(await ids(`/api/lots/in-store?site=${home.id}`, sam)).toEqual(both);
  expect(await ids(`/api/lots/in-store?site=${weir.id}`)).toEqual([sent.id]);
  expect(await ids(`/api/ferments/current?site=${weir.id}`)).toEqual([weirFerment.id]);
  expect(await ids(`/api/ferments/current?site=${home.id}`)).toEqual([ferment.id]);
  expect(await ids(`/api/setup?site=${weir.id}`)).toEqual([weirFv1.id]);
  expect(await ids(`/api/setup?site=${home.id}`)).toEqual([fv1.id, fv2.id].sort());
  expect(await ids(`/api/vessels?site=${weir.id}`)).toEqual([weirFv1.id]);
  // The line goes on at the other site, so it is a line of both.
  expect(await ids(`/api/lines?site=${weir.id}`)).toEqual([fresh.id]);
});

test('nothing of one site is in the plan, the day or the calendar of another', async () => {
  const { signIn, send, write, home, weir, strain, crop, ferment } = await theirApi();
  const ines = await signIn('ines', ['head'], []);
  const facts = { happenedAt: at(50), by, onDay: '2026-03-06', volumeL: 900 };
  const brew = { kind: 'plannedBrew', ...facts, originalGravitySg: 1.04 } as const;
  await write({ ...brew, beer: 'Quay Mild', strainId: strain.id });
  await write({ ...brew, beer: 'Weir Stout', strainId: strain.id, siteId: weir.id });
  for (const path of ['plan', 'today']) {
    const told = async (site: string) =>
      JSON.stringify((await send('GET', `/api/${path}?site=${site}`, ines)).body);
    const there = await told(weir.id);
    expect(there, path).toContain('Weir Stout');
    expect(there, path).not.toContain('Quay Mild');
    expect(there, path).not.toContain(crop.id);
    expect(there, path).not.toContain(ferment.id);
    const here = await told(home.id);
    expect(here, path).toContain('Quay Mild');
    expect(here, path).not.toContain('Weir Stout');
  }
});

test('a site that is not in the log answers 404, and an account changes its roles by site', async () => {
  const { signIn, send, strain, weir, put, weirFerment } = await theirApi();
  const ines = await signIn('ines', ['head'], []);
  expect((await send('GET', `/api/today?site=${strain.id}`, ines)).status).toBe(404);
  const made = { name: 'Sam', userName: 'sam', roles: [], siteRoles: [] };
  expect((await send('POST', '/api/people', ines, made)).status).toBe(422);
  const nowhere = [{ siteId: strain.id, role: 'cellar' }];
  const unknown = await send('POST', '/api/people', ines, { ...made, siteRoles: nowhere });
  expect([unknown.status, unknown.body.errors[0].path]).toEqual([422, 'siteRoles.0.siteId']);
  const siteRoles = [{ siteId: weir.id, role: 'cellar' }];
  expect((await send('POST', '/api/people', ines, { ...made, siteRoles })).status).toBe(201);
  const events = await send('GET', '/api/security-events', ines);
  expect(JSON.stringify(events.body)).toContain('sam: cellar at Weir');
  const { body } = await send('GET', '/api/people', ines);
  const sam = body.items.find(({ userName }: { userName: string }) => userName === 'sam');
  expect([sam.roles, sam.siteRoles]).toEqual([[], siteRoles]);
  const session = await signIn('sam', [], []);
  const reading = { kind: 'reading', happenedAt: at(50), by, tempC: 20 } as const;
  expect(await put(session, { ...reading, fermentId: weirFerment.id })).toBe(201);
  const none = { name: 'Sam', roles: ['viewer'], open: true };
  expect((await send('PUT', `/api/people/${sam.id}`, ines, none)).status).toBe(200);
  expect(await put(session, { ...reading, fermentId: weirFerment.id })).toBe(403);
});
