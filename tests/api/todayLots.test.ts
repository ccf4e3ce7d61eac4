import { expect, test } from 'vitest';
import { aBrewery, aStrain } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

type Action = { urgency: string; title: string; detail: string; href: string };

/** A brewery that plans nothing, with 20 L of a culture in store since the first hour. */
async function aLotInStore(generation: number) {
  const { write, get, setHours } = await anApi();
  await write(0, aBrewery());
  const strain = await write(0, aStrain());
  const culture = { kind: 'freshCulture', strainId: strain.id, amountL: 20 };
  const lot = await write(0, { ...culture, origin: 'other', generation });
  const today = async (hours: number): Promise<Action[]> => {
    setHours(hours);
    return (await (await get('/api/today')).json()).actions;
  };
  return { write, culture, lotId: lot.id, today };
}

test('a lot on hold is told of until it is released', async () => {
  const { write, lotId, today } = await aLotInStore(0);
  expect(await today(1)).toEqual([]);
  await write(1, { kind: 'hold', lotId, why: 'smells of sulphur' });
  const [told, ...others] = await today(2);
  expect(others).toEqual([]);
  expect(told).toMatchObject({ urgency: 'soon', title: 'TN-F1 waits', href: `/yeast/${lotId}` });
  expect(told?.detail).toContain('smells of sulphur');
  await write(3, { kind: 'release', lotId, why: 'the plate is clear' });
  expect(await today(4)).toEqual([]);
});

test('washed yeast is to be pitched at once, for the hour it may wait', async () => {
  const { write, lotId, today } = await aLotInStore(0);
  const wash = { treatment: 'acid wash', ph: 2.2, tempC: 4, override: 'a trial' };
  await write(2, { kind: 'treatment', lotId, ...wash });
  expect(await today(2.5)).toMatchObject([
    {
      ...{ urgency: 'now', title: 'Pitch TN-F1 at once', href: `/pitch?lot=${lotId}` },
      detail: 'Acid washed 30 min ago: washed yeast is not stored.',
    },
  ]);
  expect(await today(3.5)).toEqual([]);
});

test('fresh culture is asked for until a younger line of the strain stands in store', async () => {
  const { write, culture, today } = await aLotInStore(9);
  const titles = async (hours: number) => (await today(hours)).map(({ title }) => title);
  expect(await titles(1)).toContain('Bring in fresh Tern');
  await write(2, { ...culture, origin: 'bought', generation: 0 });
  expect(await titles(3)).not.toContain('Bring in fresh Tern');
});
