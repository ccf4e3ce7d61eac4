import type { Locator, Page } from 'playwright-core';

const mostTabs = 250;

/** A person at the keyboard: everything is reached by Tab and done by keys, found by role and label. */
export function keyboard(page: Page) {
  const isFocused = (target: Locator) =>
    target.evaluate((element) => element === document.activeElement);

  const reach = async (target: Locator) => {
    await target.waitFor();
    for (let tabs = 0; tabs < mostTabs; tabs += 1) {
      if (await isFocused(target)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`${target} cannot be reached by Tab.`);
  };

  const fill = async (label: string | RegExp, text: string) => {
    const named = page.getByRole('textbox', { name: label }).or(page.getByLabel(label));
    await reach(named.filter({ visible: true }).first());
    await page.keyboard.press('ControlOrMeta+A');
    await page.keyboard.type(text);
  };

  const press = async (name: string | RegExp) => {
    await reach(page.getByRole('button', { name }).first());
    await page.keyboard.press('Enter');
  };

  const follow = async (name: string | RegExp) => {
    await reach(page.getByRole('link', { name }).first());
    await page.keyboard.press('Enter');
  };

  /** Picks a radio by arrows from whichever of its group Tab reaches. */
  const pick = async (group: string | RegExp, name: string | RegExp) => {
    const box = page.getByRole('group', { name: group });
    const wanted = box.getByRole('radio', { name });
    await wanted.waitFor();
    for (let tabs = 0; tabs < mostTabs; tabs += 1) {
      const inGroup = await box.evaluate((element) => element.contains(document.activeElement));
      if (inGroup) break;
      await page.keyboard.press('Tab');
    }
    if (await isFocused(wanted)) await page.keyboard.press('Space');
    for (let arrows = 0; arrows < 12 && !(await wanted.isChecked()); arrows += 1)
      await page.keyboard.press('ArrowDown');
  };

  const tick = async (name: string | RegExp) => {
    const box = page.getByRole('checkbox', { name }).first();
    await reach(box);
    if (!(await box.isChecked())) await page.keyboard.press('Space');
  };

  /** Picks from a list by typing the start of the words shown. */
  const select = async (label: string | RegExp, start: string) => {
    await reach(page.getByRole('combobox', { name: label }).first());
    await page.keyboard.type(start);
  };

  const saved = async (words: string | RegExp) => {
    await page.getByRole('status').filter({ hasText: words }).waitFor();
  };

  return { reach, fill, press, follow, pick, tick, select, saved };
}
