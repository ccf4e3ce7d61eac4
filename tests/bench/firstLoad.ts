import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { launchChromium } from '#tests/browser/chromium.ts';
import { type Site, startSite } from '#tests/browser/site.ts';
import { median, ratio } from './timing.ts';

const runs = 5;
/** A phone of some years ago against this machine. */
const slowdown = 4;

/** Prints what Today fetches before it is of use, and how long that takes on a slow processor. */
export async function benchFirstLoad(): Promise<void> {
  const browser = await launchChromium();
  const site = await startSite({ isDemo: true });
  try {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    const page = await context.newPage();
    await site.enter(page);
    const weight = await scriptWeight(page, site);
    const full = await usableAfter(page, site, 1);
    const throttled = await usableAfter(page, site, slowdown);
    console.log('\nToday in a real browser, nothing cached, the demo behind it');
    console.table({
      Today: {
        'script kB gzipped': (weight / 1000).toFixed(1),
        'usable after ms': full.toFixed(0),
        [`usable after ms, processor ${slowdown} times slower`]: throttled.toFixed(0),
        'slow : full speed': ratio(throttled / full),
      },
    });
  } finally {
    await browser.close();
    await site.close();
  }
}

/** Script of the first page [bytes, gzipped]: all that is fetched before anything is pressed. */
async function scriptWeight(page: Page, site: Site): Promise<number> {
  const bodies: Promise<Buffer>[] = [];
  page.on('response', (response) => {
    const isScript = /\.js$/.test(new URL(response.url()).pathname);
    if (isScript && !response.fromServiceWorker()) bodies.push(response.body());
  });
  await page.goto(`${site.url}/`);
  await page.waitForLoadState('networkidle');
  page.removeAllListeners('response');
  return (await Promise.all(bodies)).reduce((sum, body) => sum + gzipSync(body).length, 0);
}

/** Median time until the first thing to do can be pressed [ms]. */
async function usableAfter(page: Page, site: Site, times: number): Promise<number> {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: times });
  await devtools.send('Network.setCacheDisabled', { cacheDisabled: true });
  const taken: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now();
    await page.goto(`${site.url}/`);
    await page.getByRole('main').getByRole('listitem').first().waitFor();
    taken.push(performance.now() - start);
  }
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  await devtools.detach();
  return median(taken);
}
