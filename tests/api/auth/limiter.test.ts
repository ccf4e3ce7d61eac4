import { expect, test } from 'vitest';
import { createLimiter } from '#api/auth/limiter.ts';
import { limitOf } from '#api/auth/limitOf.ts';
import { requestLimits, unhurriedMs } from '#shared/requestLimits.ts';
import { roles } from '#shared/roles.ts';

const limit = { perMinute: 6, atOnce: 3, words: 'looks' };

/** A limiter with a clock in seconds; each request gives how long to wait [s], 0 when let through. */
function aLimiter() {
  let seconds = 1_000_000;
  const allow = createLimiter(() => seconds * 1_000);
  return {
    pass: (by: number) => {
      seconds += by;
    },
    ask: (caller = 'ines', by = limit): number => {
      try {
        allow(caller, by);
        return 0;
      } catch (error) {
        return error instanceof Error && 'waitS' in error ? Number(error.waitS) : Number.NaN;
      }
    },
  };
}

// By hand: three at once, then one in ten seconds.
test('a caller asks so often at once, then at the pace of the limit', () => {
  const { ask, pass } = aLimiter();
  expect([ask(), ask(), ask(), ask()]).toEqual([0, 0, 0, 10]);
  pass(5);
  expect(ask()).toBe(5);
  pass(5);
  expect([ask(), ask()]).toEqual([0, 10]);
});

test('quiet gives back what may be asked at once, and no more than that', () => {
  const { ask, pass } = aLimiter();
  expect([ask(), ask(), ask()]).toEqual([0, 0, 0]);
  pass(3_600);
  expect([ask(), ask(), ask(), ask()]).toEqual([0, 0, 0, 10]);
});

test('being refused does not prolong the wait', () => {
  const { ask, pass } = aLimiter();
  for (let n = 0; n < 50; n += 1) ask();
  pass(10);
  expect(ask()).toBe(0);
});

test('a clock set back gives nothing', () => {
  const { ask, pass } = aLimiter();
  for (let n = 0; n < 3; n += 1) ask();
  pass(-3_600);
  expect(ask()).toBe(10);
  pass(10);
  expect([ask(), ask()]).toEqual([0, 10]);
});

test('callers, and kinds of asking, are counted apart', () => {
  const { ask } = aLimiter();
  for (let n = 0; n < 4; n += 1) ask('ines');
  expect([ask('ines'), ask('tom')]).toEqual([10, 0]);
  expect(ask('ines', { ...limit, words: 'exports' })).toBe(0);
});

test('of very many callers the quiet are forgotten, and those who ask are not', () => {
  const { ask, pass } = aLimiter();
  for (let n = 0; n < 4; n += 1) ask('greedy', { ...limit, perMinute: 0.01 });
  for (let n = 0; n < 5_000; n += 1) ask(`caller ${n}`);
  expect(ask('greedy', { ...limit, perMinute: 0.01 })).toBeGreaterThan(600);
  pass(300);
  ask('another');
  expect(ask('greedy', { ...limit, perMinute: 0.01 })).toBeGreaterThan(600);
  pass(601);
  ask('one more');
  // Forgotten, it begins afresh.
  expect(ask('greedy', { ...limit, perMinute: 0.01 })).toBe(0);
});

test('each row of routes has the limit of those who may call it', () => {
  const tag = 'Lots' as never;
  expect(limitOf({ who: 'anyone', tag })).toBe(undefined);
  expect(limitOf({ who: 'anyone', tag: 'Calculations' })).toBe('sum');
  expect(limitOf({ who: 'device', tag })).toBe('device');
  expect(limitOf({ who: 'feed key', tag })).toBe('feed');
  expect(limitOf({ who: roles, tag })).toBe('session');
  expect(limitOf({ who: roles, limit: 'export', tag })).toBe('export');
});

// 600 a minute are one in 100 ms; a fifth is left to spare.
test('the outbox sends a fifth more slowly than a sign-in may ask', () => {
  expect(unhurriedMs).toBeCloseTo(120, 9);
  const { ask, pass } = aLimiter();
  const waits = Array.from({ length: 2_000 }, () => {
    pass(unhurriedMs / 1_000);
    return ask('outbox', requestLimits.session);
  });
  expect(Math.max(...waits)).toBe(0);
});
