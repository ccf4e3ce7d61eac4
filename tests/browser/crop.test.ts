import type { Locator } from 'playwright-core';
import { expect, test } from 'vitest';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });

const mostTouches = 6;
const mostMs = 30_000;

test('a crop with nothing unusual takes at most six touches and 30 s from Today', {
  timeout: 200_000,
}, async () => {
  const context = await here.browser.newContext({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  let touches = 0;
  const touch = async (target: Locator) => {
    await target.tap();
    touches += 1;
  };

  const begunMs = Date.now();
  await touch(page.getByRole('navigation', { name: 'Jobs' }).getByRole('link', { name: 'Crop' }));
  await touch(page.locator('.pick a').first());
  await touch(page.getByRole('button', { name: /^As last time/ }));
  await touch(page.getByRole('button', { name: /^More amount/ }).first());
  const save = page.getByRole('button', { name: 'Save the crop' });
  const isInSight = await save.evaluate((button) => {
    const { top, bottom, left, width } = button.getBoundingClientRect();
    const there = document.elementFromPoint(left + width / 2, (top + bottom) / 2);
    return there !== null && button.contains(there);
  });
  await touch(save);
  await page.getByText('Write on the bin:').waitFor();
  const code = await page.locator('.bin-code').textContent();
  const tookMs = Date.now() - begunMs;
  console.log(`A crop took ${touches} touches and ${(tookMs / 1000).toFixed(1)} s of the machine.`);
  await context.close();

  expect(isInSight).toBe(true);
  expect(code).toMatch(/^[A-Z]+-\w+$/);
  expect(touches).toBeLessThanOrEqual(mostTouches);
  expect(tookMs).toBeLessThan(mostMs);
});
