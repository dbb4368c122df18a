import { defaultSettings, registry, studyOf } from "@keyside/core";
import { expect, test } from "vitest";
import { agreeWithin, type Compared, compared } from "../../core/recomputed/shared/compare.ts";
import { recordings } from "../../core/recomputed/shared/shots.ts";

test("numbers of the notes on recordings are those that are computed again, but for one in fifty", async () => {
  const all: Compared[] = [];
  for (const { make } of recordings()) {
    const shot = make();
    all.push(...(await compared(shot, studyOf(shot, defaultSettings(registry)))));
  }
  const apart = all.filter((one) => one.apart > agreeWithin);
  expect(all.length).toBeGreaterThan(50);
  expect(
    apart.length,
    apart.map(({ note, said, again }) => `${note.message}: ${said}, ${again}`).join("\n"),
  ).toBeLessThanOrEqual(0.02 * all.length);
});
