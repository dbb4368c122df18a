import { figuresOf, registry, resolveSettings, type Study, studyOf } from "@keyside/core";
import { strengthKinds, strengthNames } from "@keyside/core/internal";
import { describe, expect, test } from "vitest";
import { shotFrom } from "../recomputed/shared/shots.ts";
import { cases } from "./motions.ts";

const found = (study: Study, name: string) =>
  figuresOf(study).flatMap(
    (_, figure) => strengthKinds.find((kind) => kind.name === name)?.find(study, figure) ?? [],
  );
const studied = (motion: Parameters<typeof shotFrom>[0]) =>
  studyOf(shotFrom(motion), resolveSettings(registry));

test("each kind has a motion in which it holds and one in which it does not", () => {
  expect(Object.keys(cases).sort()).toEqual([...strengthNames].sort());
  for (const { holds, not } of Object.values(cases))
    expect([holds.length > 0, not.length > 0]).toEqual([true, true]);
});

describe.each(Object.entries(cases))("%s", (name, { holds, not }) => {
  test.each(holds)("holds in $title", ({ motion }) => {
    const all = found(studied(motion()), name);
    expect(all.length).toBeGreaterThan(0);
    for (const { measured, within, from, to, size } of all) {
      expect(measured.value).toBeGreaterThanOrEqual(within.min ?? Number.NEGATIVE_INFINITY);
      expect(measured.value).toBeLessThanOrEqual(within.max ?? Number.POSITIVE_INFINITY);
      expect(measured.unit).toBe(within.unit);
      expect(to).toBeGreaterThan(from);
      expect(size).toBeGreaterThan(0);
    }
  });

  test.each(not)("does not hold in $title", ({ motion }) => {
    expect(found(studied(motion()), name)).toEqual([]);
  });
});

test("each kind says what it computes, what could have failed, and where its bounds come from", () => {
  for (const kind of strengthKinds) {
    expect(kind.sources.length, kind.name).toBeGreaterThan(0);
    for (const text of [kind.what, kind.computes, kind.canFail]) expect(text).toMatch(/^[A-Z].*\.$/s);
  }
});
