import { expect, test } from 'vitest';
import { queueOf, readyForOffline } from '../deviceQueue.ts';
import { allSent, usePhone, waits } from './phone.ts';

const phone = usePhone();

test('what waits stays through a sign-out, and goes when its own author is back', {
  timeout: 300_000,
}, async () => {
  const { context, page, at } = await phone.open();
  const { ferment } = await phone.known(page);
  await readyForOffline(page);
  await context.setOffline(true);
  await at.reading(ferment.id, '1008');
  const [waiting] = await queueOf(page);
  await at.open('/yeast/new');
  await page.getByLabel(/^Supplier/).fill('Half typed by Ines');
  await page.reload();
  await page.getByText(/^What you typed on/).waitFor();
  const afterReload = await page.getByLabel(/^Supplier/).inputValue();

  // The session ends while the phone is away, and someone else takes the phone.
  await context.clearCookies();
  await context.setOffline(false);
  await at.open('/');
  await page.getByLabel('User name').fill('maeve');
  await page.getByLabel('Password', { exact: true }).fill('skim-at-high-tide');
  await page.getByRole('button', { name: 'Sign in', exact: true }).click();
  await page.getByRole('link', { name: '1 waiting' }).click();
  await page.getByText('waits for Ines to sign in', { exact: true }).waitFor();
  const changesOffered = await page.getByRole('button', { name: /^Change it/ }).count();
  const asMaeve = await phone.written(page, [waiting?.id ?? '']);
  await at.open('/yeast/new');
  const seenByMaeve = await page.getByLabel(/^Supplier/).inputValue();

  await context.clearCookies();
  await phone.site.enter(page);
  await allSent(page);
  const asInes = await phone.written(page, [waiting?.id ?? '']);
  await at.open('/yeast/new');
  const backWithInes = await page.getByLabel(/^Supplier/).inputValue();
  await context.close();

  expect(afterReload).toBe('Half typed by Ines');
  expect(changesOffered).toBe(0);
  expect(seenByMaeve).toBe('');
  expect(backWithInes).toBe('Half typed by Ines');
  expect(asMaeve).toEqual([]);
  expect(asInes.map(({ by }) => by)).toEqual(['Ines']);
});

test('someone else signed in beside an open page: nothing of it goes under another name', {
  timeout: 300_000,
}, async () => {
  const { context, page, at } = await phone.open();
  const { ferment, running } = await phone.known(page);
  const begun = running[1]?.id ?? '';
  await at.open(`/ferments/${begun}`);
  const gravity = page.getByRole('textbox', { name: /^Gravity/ }).first();
  await gravity.fill('1007.5');
  await at.open(`/ferments/${ferment.id}`);
  await gravity.fill('1007');

  // As from a page that does not tell this one.
  const signedIn = await page.request.post(`${phone.site.url}/api/session`, {
    headers: { origin: phone.site.url },
    data: { userName: 'maeve', password: 'skim-at-high-tide', keep: false },
    // The server may just then close the connection kept from before.
    maxRetries: 3,
  });
  expect(signedIn.status()).toBe(201);
  await at.press('Save the reading');
  await page.getByRole('button', { name: 'You are Maeve' }).waitFor();
  await waits(page, 1);
  const [waiting] = await queueOf(page);
  const asMaeve = await phone.written(page, [waiting?.id ?? '']);
  await page.getByRole('link', { name: '1 waiting' }).click();
  await page.getByText('waits for Ines').waitFor();
  const canChange = await page.getByRole('button', { name: /^Change it/ }).count();
  await at.open(`/ferments/${begun}`);
  const shownToMaeve = await gravity.inputValue();

  await context.clearCookies();
  await phone.site.enter(page);
  await allSent(page);
  await at.open(`/ferments/${begun}`);
  const shownToInes = await gravity.inputValue();
  const [asInes] = await phone.items<{ by: string; enteredBy: { name: string } }>(
    page,
    `/api/records/${waiting?.id}/history`,
  );
  await context.close();

  expect(asMaeve).toEqual([]);
  expect(canChange).toBe(0);
  expect([shownToMaeve, shownToInes]).toEqual(['', '1007.5']);
  expect(asInes).toMatchObject({ by: 'Ines', enteredBy: { name: 'Ines' } });
});
