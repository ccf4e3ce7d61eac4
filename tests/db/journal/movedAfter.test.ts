import { expect, test } from 'vitest';
import type { Entry } from '#shared/entries/entry.ts';
import { aFerment, aSmallStory, at } from '#tests/support/brewery.ts';

type Story = Awaited<ReturnType<typeof aSmallStory>>;

const why = { by: 'Ines', reason: 'misread the clock' };

/** Each record of the story at another hour: collected at 1, pitched at 2, cropped at 44. */
const moved: Record<string, (story: Story, hours: number) => Entry> = {
  'the only pitch': ({ pitch, ferment, fresh }, hours) => ({
    ...why,
    kind: 'pitch',
    happenedAt: at(hours),
    supersedes: pitch.id,
    fermentId: ferment.id,
    lotId: fresh.id,
    amountL: 11,
  }),
  'a collection': ({ ferment, fv1, strain }, hours) => ({
    ...aFerment({ vesselId: fv1.id, strainId: strain.id, happenedAt: at(hours) }),
    ...why,
    supersedes: ferment.id,
  }),
  'a fresh culture': ({ fresh, strain }, hours) => ({
    ...why,
    kind: 'freshCulture',
    happenedAt: at(hours),
    supersedes: fresh.id,
    strainId: strain.id,
    origin: 'bought',
    generation: 0,
    amountL: 20,
  }),
  'a crop': ({ crop, ferment }, hours) => ({
    ...why,
    kind: 'crop',
    happenedAt: at(hours),
    supersedes: crop.id,
    fermentId: ferment.id,
    cut: 'skim 2',
    amountKg: 10,
  }),
};

async function corrected(what: string, hours: number) {
  const story = await aSmallStory();
  await story.write({
    kind: 'stain',
    happenedAt: at(48),
    by: 'Ines',
    lotId: story.crop.id,
    stain: 'methylene blue',
    live: 180,
    dead: 20,
  });
  const entry = moved[what]?.(story, hours);
  if (entry === undefined) throw new Error(`There is no ${what}.`);
  return story.write(entry);
}

test.each([
  ['the only pitch', 45, 'The gyle was cropped before then: put that right first'],
  ['a collection', 3, 'The gyle was pitched before then: put that right first'],
  ['a fresh culture', 3, 'The lot was pitched before then: put that right first'],
  ['a crop', 49, 'The lot was stained before then: put that right first'],
])('%s is not moved to hour %i, after what rests on it', async (what, hours, message) => {
  await expect(corrected(what, hours)).rejects.toMatchObject({
    code: 'invalid',
    errors: [{ path: 'happenedAt', message }],
  });
});

test.each([
  ['the only pitch', 44],
  ['a collection', 2],
  ['a fresh culture', 2],
  ['a crop', 48],
])('%s may be moved to hour %i, the very moment of it', async (what, hours) => {
  expect((await corrected(what, hours)).warnings).toEqual([]);
});

test('one pitch of two may be moved past the crop: the other came before it', async () => {
  const story = await aSmallStory();
  const { ferment, fresh, write } = story;
  await write({
    kind: 'pitch',
    happenedAt: at(3),
    by: 'Ines',
    fermentId: ferment.id,
    lotId: fresh.id,
    amountL: 1,
  });
  const late = moved['the only pitch']?.(story, 45);
  if (late === undefined) throw new Error('There is no such pitch.');
  expect((await write(late)).recordId).toBe(story.pitch.id);
});
