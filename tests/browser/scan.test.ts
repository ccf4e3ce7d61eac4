import { expect, test } from 'vitest';
import { useSite } from './useSite.ts';

const here = useSite({ isDemo: true });

/** A browser with a reader of codes, and a camera that shows one; the Chromium here has neither. */
const readerOf = (text: string) => `{
  globalThis.BarcodeDetector = class {
    static getSupportedFormats = async () => ['qr_code'];
    detect = async () => [{ rawValue: ${JSON.stringify(text)} }];
  };
  const canvas = document.createElement('canvas');
  setInterval(() => canvas.getContext('2d').fillRect(0, 0, Math.random() * 99, 99), 40);
  navigator.mediaDevices.getUserMedia = async () => canvas.captureStream();
}`;

test('where the browser reads codes, a label opens its lot, whatever address it was printed with', {
  timeout: 120_000,
}, async () => {
  const page = await here.browser.newPage({ viewport: { width: 390, height: 844 } });
  page.setDefaultTimeout(30_000);
  await here.site.enter(page);
  const lots: { items: { id: string; code: string }[] } = await (
    await page.request.get(`${here.site.url}/api/lots/in-store`)
  ).json();
  const [lot] = lots.items;
  await page.addInitScript(readerOf(`http://192.168.1.20:4180/yeast/${lot?.id}`));
  await page.goto(`${here.site.url}/yeast`);
  await page.getByRole('button', { name: 'Scan a label' }).click();
  await page.getByRole('heading', { level: 1, name: lot?.code ?? '' }).waitFor();
  const { pathname } = new URL(page.url());
  await page.close();
  expect(pathname).toBe(`/yeast/${lot?.id}`);
});
