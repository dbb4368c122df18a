import { writeDocument } from "../../../../packages/core/document/write.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { cleanDocument, poppingDocument } from "../../cli/shots-for-tests.ts";

/** A document with one key that leaves its path, a key to a line; the key stands on line {@link popLine} (from 0). */
export const popping = writeDocument(poppingDocument());
export const clean = writeDocument(cleanDocument());

/** Line, from 0, on which the key of a frame stands. */
export function lineOfFrame(text: string, frame: number): number {
  return text.split("\n").findIndex((line) => line.trimStart().startsWith(`[${frame},`));
}
export const popLine = lineOfFrame(popping, 48);
export const poppingKey = popping.split("\n")[popLine];
export const cleanKey = clean.split("\n")[popLine];

/** Settings that turn off all checks but some, so that tests say what they mean. */
export function only(...names: readonly string[]): { readonly keyside: Record<string, unknown> } {
  const checks = registry.map(({ name }) => [name, names.includes(name)]);
  return { keyside: { checks: Object.fromEntries(checks) } };
}
