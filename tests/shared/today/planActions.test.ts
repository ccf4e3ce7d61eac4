import { expect, test } from 'vitest';
import { planOf } from '#api/plan.ts';
import { hourMs } from '#shared/durations.ts';
import { dayAfter } from '#shared/localDay.ts';
import { planActions } from '#shared/today/planActions.ts';
import { at, storyStartMs } from '#tests/support/brewery.ts';
import { aPlanStory } from '#tests/support/planStory.ts';

const nowMs = storyStartMs + 48 * hourMs;
const today = '2026-03-04';
const days = { today, tomorrow: dayAfter(today) };

async function actionsWith(brewDays: readonly number[], policy?: object) {
  const { database, brew, strain, write } = await aPlanStory();
  for (const each of brewDays) await brew(dayAfter(today, each), `Bitter ${each}`);
  if (policy !== undefined)
    await write({
      ...{ kind: 'freshCulturePolicy', happenedAt: at(47), by: 'Ines', strainId: strain.id },
      ...{ comesFrom: 'bought', ...policy },
    });
  return planActions(await planOf(database, nowMs), days);
}

test('planActions(plan) of a plan that is fed asks for nothing', async () => {
  expect(await actionsWith([1])).toEqual([]);
});

test('planActions(plan) tells of a brew that will be short, and of the order that is late', async () => {
  const actions = await actionsWith([12], {});
  expect(actions.map(({ title, urgency }) => [title, urgency])).toEqual([
    ['Not enough yeast for Bitter 12 in 12 days', 'soon'],
    ['Order fresh Tern', 'today'],
  ]);
  expect(actions[1]?.detail).toContain('should have been ordered 2 days ago');
});

test('planActions(plan) gives the last day for waking a slope', async () => {
  const actions = await actionsWith([15], { comesFrom: 'slope' });
  expect(actions[1]).toMatchObject({ title: 'Wake the slope of Tern', urgency: 'soon' });
});

test('planActions(plan) is silent on fresh culture that is under way', async () => {
  expect(await actionsWith([12], { expectedOn: dayAfter(today, 11) })).toEqual([]);
});

test('planActions(plan) leaves the brews of today and tomorrow to what stands in store', async () => {
  const titles = (await actionsWith([1, 1, 1], {})).map(({ title }) => title);
  expect(titles).toEqual(['Order fresh Tern']);
});

test('planActions(plan) counts one day as a day, and says now for a day that has come', async () => {
  const detailOf = async (brewDay: number) =>
    (await actionsWith([brewDay, brewDay, brewDay], {}))[0]?.detail;
  expect(await detailOf(1)).toContain(': wanted in 1 day, because of a shortage.');
  expect(await detailOf(0)).toContain(': wanted now, because of a shortage.');
});
