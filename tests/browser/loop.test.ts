import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { keyboard } from './keyboard.ts';
import { useSite } from './useSite.ts';

const here = useSite();

async function aPage(): Promise<Page> {
  const context = await here.browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  return page;
}

test('a new brewery goes from nothing to its second pitch, by keys alone', {
  timeout: 400_000,
}, async () => {
  const page = await aPage();
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  const { fill, press, follow, pick, tick, select, saved } = keyboard(page);
  // After each step the server is restarted and the page loaded anew: nothing may be lost.
  const interrupt = async (path: string) => {
    await here.site.restart();
    await page.goto(`${here.site.url}${path}`);
    await page.getByRole('heading', { level: 1 }).waitFor();
  };

  const collect = async (gyle: string, vessel: string) => {
    await fill('Gyle number', gyle);
    await fill('Beer', 'Headland Bitter');
    await select('FV', vessel);
    await fill(/^Volume collected/, '1636.6');
    await fill(/^Original gravity/, '1040');
    await press('Save the gyle');
    await saved('The gyle is written down.');
  };

  await here.site.enter(page);
  await follow('Name it');
  await fill('Name of the brewery', 'Skerry Lane');
  await press('Save the brewery');
  await saved('The brewery is written down');

  await interrupt('/setup');
  await fill('Name of the strain', 'Tern');
  await fill('Short code', 'TN');
  await press('Save the strain');
  await saved(/Tern|strain/);

  await interrupt('/setup');
  await fill('Name of the FV', 'FV1');
  await press('Save the FV');
  await saved(/FV/);

  await interrupt('/setup#vessels');
  await press('Add an FV');
  await fill('Name of the FV', 'FV2');
  await press('Save the FV');
  await saved(/FV/);

  await interrupt('/setup');
  await follow('Enter it');
  await pick('Where it comes from', 'Bought');
  await fill(/^Amount/, '20');
  await press('Write it down');
  await saved(/TN-F1/);

  await interrupt('/ferments/new');
  await collect('412', 'FV1');
  await interrupt('/');
  await follow(/^Pitch/);
  await tick(/TN-F1/);
  await fill(/^Amount of TN-F1 put in/, '11');
  await press('Record it in gyle 412');
  await saved('The pitch into gyle 412 is recorded.');

  await interrupt('/ferments');
  await follow(/412/);
  await fill(/^Gravity/, '1020');
  await fill(/^Temperature/, '20.5');
  await press('Save the reading');
  await saved(/reading/i);

  await interrupt('/crop');
  await follow(/412/);
  await pick('Which cut', 'Skim 2');
  await fill(/^Amount/, '30');
  await press('Save the crop');
  await page.getByText('TN-412A').first().waitFor();

  await interrupt('/bench');
  await follow(/TN-412A/);
  const squares = [38, 41, 35, 37, 36];
  for (const [index, cells] of squares.entries())
    await fill(new RegExp(`square ${index + 1}$`), String(cells));
  await fill(/Dilution/, '100');
  await press('Save the count');
  await saved(/count/i);
  await interrupt('/bench');
  await follow(/TN-412A/);
  await follow(/Stain/);
  await fill('Live cells', '388');
  await fill('Dead cells', '12');
  await press('Save the stain');
  await saved(/stain/i);

  await interrupt('/ferments/new');
  await collect('413', 'FV2');
  await interrupt('/');
  await follow(/^Pitch/);
  await tick(/TN-412A/);
  // 1636.6 L at 1040, 0.75 million/mL/°P, 9.35e8 cells/mL at 97 %: 13.52 L by hand.
  await page.getByText('13.5 L').first().waitFor();
  // By hand: 187 cells counted, chamber 4.6 %, one pipetting 4.7 %, 388 of 400 alive: 9.9 % in all,
  // so that 95 % lie within a factor of exp(1.96 x 0.099) = 1.21 of it.
  const shown = page.getByText(/^\d+\.\d to \d+\.\d L$/).first();
  const range = (await shown.textContent()) ?? '';
  const [low = 0, high = 0] = range.match(/\d+\.\d/g)?.map(Number) ?? [];
  console.log(`13.5 L to pitch, 95 % range ${range}`);
  expect(Math.abs(low / (13.52 / 1.21) - 1)).toBeLessThan(0.03);
  expect(Math.abs(high / (13.52 * 1.21) - 1)).toBeLessThan(0.03);
  await fill(/^Amount of TN-412A put in/, '13.5');
  await press('Record it in gyle 413');
  await saved('The pitch into gyle 413 is recorded.');
  await interrupt('/yeast');
  await page.getByText('16.5 L').first().waitFor();
  expect(faults).toEqual([]);
});
