import axe from 'axe-core';
import type { Page } from 'playwright-core';

/** What axe finds serious on the page as it stands, and how far it is wider than the window. */
export async function faultsOf(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const violations = await page.evaluate(async () => {
    const { axe: checker } = window as unknown as { axe: typeof import('axe-core') };
    const { violations: found } = await checker.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
    });
    return found
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`);
  });
  const overflow = await page.evaluate(
    () => document.documentElement.scrollWidth - window.innerWidth,
  );
  return overflow > 0 ? [...violations, `${overflow} px too wide`] : violations;
}
