/** One page by the same measure everywhere: axe finds nothing, nothing scrolls sideways, targets fit a gloved finger. */
import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

/** The house's least size of a target [px]. */
const TARGET_PX = 44;

export async function expectAccessible(page: Page, width: number, targets: string): Promise<void> {
  // With no frame inside, axe needs no second page to gather frames in; of the rules that pass one example each is enough.
  expect(page.frames()).toHaveLength(1);
  const { violations, passes } = await new AxeBuilder({ page })
    .setLegacyMode(true)
    .options({ resultTypes: ['violations'] })
    .analyze();
  expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 160)).join(' | ')}`)).toEqual(
    [],
  );
  expect(passes.length).toBeGreaterThan(10);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  const small = await page
    .locator(targets)
    .evaluateAll(
      (elements, least) =>
        elements
          .filter((element) => element.getBoundingClientRect().height < least)
          .map((element) => element.outerHTML.slice(0, 120)),
      TARGET_PX,
    );
  expect(small).toEqual([]);
}
