import type { Page } from "playwright-core";
import { expect } from "vitest";

/** Waits for something to be so. How long it takes is no matter: the time ends what hangs. */
export function eventually(ask: () => unknown): ReturnType<typeof expect.poll> {
  return expect.poll(ask, { timeout: 120_000, interval: 50 });
}

/** Waits until an expression is true in a page. It is asked from here: the page's policy refuses code that looks again and again. */
export async function untilTrue(page: Page, expression: string): Promise<void> {
  await eventually(() => page.evaluate<boolean>(expression)).toBe(true);
}
