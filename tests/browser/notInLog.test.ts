import { expect, test } from 'vitest';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });
const unknown = '0195502c-0000-7000-8000-00000000dead';

test('a record that is not in the log is said to be missing, with the way to the list or the search', async () => {
  const context = await here.browser.newContext({ viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await here.site.enter(page);
  const search = 'Find it by code, gyle or batch';
  for (const [path, what, list, listPath] of [
    [`yeast/${unknown}`, 'lot', 'Yeast in store', 'yeast'],
    [`ferments/${unknown}`, 'gyle', 'Ferments', 'ferments'],
    [`lines/${unknown}`, 'line', 'Lines', 'lines'],
    [`trace?of=${unknown}`, 'record', search, 'trace'],
    [`trace?of=${unknown.slice(0, 20)}`, 'record', search, 'trace'],
    [`records/${unknown}`, 'record', search, 'trace'],
  ] as const) {
    await page.goto(`${here.site.url}/${path}`);
    const said = page.locator('.load-error');
    await said.getByText(`This ${what} is not in the log.`).waitFor();
    expect(await page.getByRole('button', { name: 'Try again' }).count()).toBe(0);
    await page.screenshot({ path: `tests/browser/screens/missing-${what}-390.png` });
    await said.getByRole('link', { name: list }).click();
    await page.waitForURL(`${here.site.url}/${listPath}`);
  }
}, 120_000);

test('a lot or gyle whose page the server could not make is not shown in part', async () => {
  const context = await here.browser.newContext({
    viewport: { width: 390, height: 844 },
    serviceWorkers: 'block',
  });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await here.site.enter(page);
  const fault = { title: 'It failed', detail: 'The log could not be read.' };
  await page.route(/\/standing$/, (route) => route.fulfill({ status: 500, json: fault }));
  for (const list of ['yeast', 'ferments']) {
    await page.goto(`${here.site.url}/${list}`);
    await page.getByRole('main').locator(`a[href^="/${list}/0"]`).first().click();
    const said = page.locator('.load-error');
    await said.getByText(fault.detail).waitFor();
    expect(await said.getByRole('button', { name: 'Try again' }).count()).toBe(1);
  }
}, 120_000);
