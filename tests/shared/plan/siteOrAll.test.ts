import { expect, test } from 'vitest';
import { brewsOfSite, cropsOfSite } from '#shared/plan/siteOrAll.ts';

const crop = (strainId: string, ratio: number) => ({ strainId, ratio, hours: 48, viability: null });

test('cropsOfSite(own, all) takes the crops of the site for each strain of which it has five', () => {
  const tern = [3, 3, 3, 3, 3].map((ratio) => crop('tern', ratio));
  const fulmar = [2, 2, 2, 2].map((ratio) => crop('fulmar', ratio));
  const elsewhere = [crop('tern', 6), crop('fulmar', 6)];
  const all = [...elsewhere, ...tern, ...fulmar];
  expect(cropsOfSite([...tern, ...fulmar], all)).toEqual([...tern, crop('fulmar', 6), ...fulmar]);
  expect(cropsOfSite([], all).toSorted((a, b) => a.ratio - b.ratio)).toEqual(
    all.toSorted((a, b) => a.ratio - b.ratio),
  );
});

test('brewsOfSite(own, all) takes the brews of the site once there are fifty of a strain', () => {
  const brews = (generation: number, count: number) => ({
    ...{ strainId: 'tern', generation, brews: count, lost: 0 },
  });
  const all = [brews(1, 400)];
  expect(brewsOfSite([brews(1, 30), brews(2, 20)], all)).toEqual([brews(1, 30), brews(2, 20)]);
  expect(brewsOfSite([brews(1, 30), brews(2, 19)], all)).toEqual(all);
});
