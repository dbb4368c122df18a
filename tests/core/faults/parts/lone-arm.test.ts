import { notesOf, resolveSettings, shotOf, studyOf } from "@keyside/core";
import { expect, test } from "vitest";
import type { ChosenValue } from "../../../../packages/core/base/quantity.ts";
import { loneArmExamples } from "../../../../packages/core/faults/parts/lone-arm/examples.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";

const [, lightThrow, heavyThrow] = loneArmExamples.faulty;

function notesWith(example: (typeof loneArmExamples.faulty)[number], values: Record<string, ChosenValue>) {
  const { shot } = shotOf(example.motion());
  if (shot === null) throw new Error("the example cannot be read");
  const settings = resolveSettings(registry, { checks: { "lone-arm": { values } } }, { only: ["lone-arm"] });
  return notesOf(studyOf(shot, settings));
}

test("a throw counts from the speed that is set, and of a heavy thing from less", () => {
  // The light ball leaves the hand at 6 m/s, the one of 4 kg at 3 m/s.
  expect(notesWith(lightThrow, { launch: { value: 5, unit: "m/s" } })).toHaveLength(1);
  expect(notesWith(lightThrow, { launch: { value: 9, unit: "m/s" } })).toHaveLength(0);
  expect(notesWith(heavyThrow, { launch: { value: 5, unit: "m/s" } })).toHaveLength(1);
});

test("of a throw the share is asked for that is set", () => {
  expect(notesWith(lightThrow, { throw: { value: 0, unit: "share" } })).toHaveLength(0);
});
