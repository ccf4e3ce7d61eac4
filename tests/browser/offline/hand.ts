import type { Page } from 'playwright-core';

/** A person at the phone: goes to a page and fills its form in. */
export function hand(page: Page, siteUrl: string) {
  const moves = movesOf(page, siteUrl);
  const { open, press } = moves;
  return { open, press, ...atTheFermenter(page, moves), ...atTheBench(page, moves) };
}

export type Hand = ReturnType<typeof hand>;
type Moves = ReturnType<typeof movesOf>;

function movesOf(page: Page, siteUrl: string) {
  const press = (name: string | RegExp) => page.getByRole('button', { name }).first().click();
  return {
    open: async (path: string) => {
      await page.goto(`${siteUrl}${path}`);
      await page.getByRole('heading', { level: 1 }).waitFor();
    },
    press,
    /** Waits until the form says that it is kept on the device, and closes that. */
    noted: async (words: RegExp) => {
      await page.getByRole('status').filter({ hasText: words }).first().waitFor();
      await page.getByText('Kept on this device').first().waitFor();
      await press('Close this note');
    },
  };
}

const atTheFermenter = (page: Page, { open, press, noted }: Moves) => ({
  reading: async (fermentId: string, gravity: string) => {
    await open(`/ferments/${fermentId}`);
    await page
      .getByRole('textbox', { name: /^Gravity/ })
      .first()
      .fill(gravity);
    await press('Save the reading');
    await noted(/reading/i);
  },
  crop: async (fermentId: string, code = '') => {
    await open(`/crop?ferment=${fermentId}`);
    await press(/More amount/);
    if (code !== '') {
      await page.getByText('Bin, place, own code, note').click();
      await page.getByLabel(/^Own lot code/).fill(code);
    }
    await press('Save the crop');
    await page.getByRole('heading', { name: 'Cropped' }).waitFor();
    await page.getByText('Kept on this device').waitFor();
  },
  collect: async (gyle: string) => {
    await open('/ferments/new');
    await page.getByLabel('Gyle number').fill(gyle);
    await page.getByLabel('Beer', { exact: true }).fill('Low Water Mild');
    await page.getByLabel('FV', { exact: true }).selectOption({ index: 1 });
    const strain = page.getByLabel('Strain', { exact: true });
    if ((await strain.count()) > 0) await strain.selectOption({ index: 1 });
    await page.getByLabel(/^Volume collected/).fill('10');
    await page.getByLabel(/^Original gravity/).fill('1036');
    await press('Save the gyle');
    await noted(/gyle/i);
  },
  pitch: async (gyle: string) => {
    await open('/pitch');
    const wort = page.getByLabel('Into which wort?');
    const option = wort.locator('option', { hasText: gyle });
    await wort.selectOption(await option.first().getAttribute('value'));
    await page
      .getByLabel(/^Amount of .* put in/)
      .first()
      .fill('3');
    const why = page.getByLabel('Why is it pitched all the same?');
    if ((await why.count()) > 0) await why.fill('Nothing better in store.');
    await press(`Record it in gyle ${gyle}`);
    await noted(/pitch/i);
  },
});

const atTheBench = (page: Page, { open, press, noted }: Moves) => ({
  count: async (lotId: string, squares: readonly number[]) => {
    await open(`/bench?lot=${lotId}`);
    for (const [index, cells] of squares.entries())
      await page
        .getByLabel(new RegExp(`square ${index + 1}$`))
        .first()
        .fill(String(cells));
    await page
      .getByLabel(/^Dilution/)
      .first()
      .fill('100');
    await press('Save the count');
    await noted(/count/i);
  },
  stain: async (lotId: string, live: number, dead: number) => {
    await open(`/bench?lot=${lotId}&do=stain`);
    await page.getByLabel('Live cells').fill(String(live));
    await page.getByLabel('Dead cells').fill(String(dead));
    await press('Save the stain');
    await noted(/stain/i);
  },
});
