import { expect, test } from 'vitest';
import { mediaInUse, mediumNamed, presetMedia } from '#shared/micro/media.ts';
import { plateFigure, plateWords } from '#shared/micro/plateFigure.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import { at, nextId } from '#tests/support/brewery.ts';

test('a medium of the brewery replaces the preset of its name, whatever the capitals', () => {
  const own: Recorded<'medium'> = {
    ...{ kind: 'medium', happenedAt: at(0), by: 'Jory', reads: 'colonies', readAfterDays: 6 },
    ...{ id: nextId(), entryId: nextId(), seq: 1, receivedAt: at(0), corrected: false },
    name: 'lwym',
    looksFor: 'wild yeast',
  };
  const media = mediaInUse([own]);
  expect(media).toHaveLength(presetMedia.length);
  expect(mediumNamed(media, ' LWYM ')).toMatchObject({ readAfterDays: 6, source: 'the house' });
});

// Richards 1968 gives a discard level for wild yeast; none is published for bacteria.
test('only media for wild yeast come with a discard limit', () => {
  const limited = presetMedia.filter(({ discardPerMillion }) => discardPerMillion !== undefined);
  expect(limited.map(({ name }) => name)).toEqual(['LWYM', 'Lysine agar', 'Copper agar']);
  expect(new Set(limited.map(({ discardPerMillion }) => discardPerMillion))).toEqual(
    new Set([100]),
  );
});

test('plateWords says what a plate cannot tell', () => {
  expect(plateWords({ colonies: 0, cellsPlated: 3e6 })).toBe(
    'no colony, less than 0.999 per million',
  );
  expect(plateWords({ colonies: 1 })).toBe('1 colony');
  expect(plateWords({ cellsPlated: 3e6 })).toBe('');
});

test('plateFigure stands to a limit only when there is one', () => {
  expect(plateFigure({ colonies: 150, cellsPlated: 1e6 }, 100)?.against).toBe('over');
  expect(plateFigure({ colonies: 150, cellsPlated: 1e6 })?.against).toBe(null);
  expect(plateFigure({ colonies: 150, cellsPlated: 0 })).toBe(null);
});
