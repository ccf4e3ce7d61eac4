import { expect, test } from 'vitest';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });
const unknown = '0195502c-0000-7000-8000-00000000dead';

test('a lot, gyle or line that is not in the log is said to be missing, with the way to the list', async () => {
  const context = await here.browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await here.site.enter(page);
  for (const [path, what, list] of [
    ['yeast', 'lot', 'Yeast in store'],
    ['ferments', 'gyle', 'Ferments'],
    ['lines', 'line', 'Lines'],
  ] as const) {
    await page.goto(`${here.site.url}/${path}/${unknown}`);
    const said = page.locator('.load-error');
    await said.getByText(`This ${what} is not in the log.`).waitFor();
    expect(await page.getByRole('button', { name: 'Try again' }).count()).toBe(0);
    await page.screenshot({ path: `tests/browser/screens/missing-${what}-390.png` });
    await said.getByRole('link', { name: list }).click();
    await page.waitForURL(`${here.site.url}/${path}`);
  }
}, 120_000);
