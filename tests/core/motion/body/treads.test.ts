import { describe, expect, test } from "vitest";
import { shotOf } from "../../../../packages/core/document/read.ts";
import { outOfStepExamples } from "../../../../packages/core/faults/parts/out-of-step/examples.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { legPairsOf, treadsOf } from "../../../../packages/core/motion/body/treads.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";

const studyNamed = (title: string) => {
  const example = [...outOfStepExamples.silent, ...outOfStepExamples.faulty].find(
    (one) => one.title === title,
  );
  return studyOf(shotOf(example!.motion()).shot!, resolveSettings(registry, {}));
};

describe("legs of a body that goes", () => {
  test("are those whose ends stand on their way back, whatever they are called", () => {
    const study = studyNamed("a trot");
    const ends = treadsOf(study, 0).map(({ end }) => rigOf(study).ids[end]);
    expect(ends.toSorted()).toEqual(["foot_fore_l", "foot_fore_r", "foot_hind_l", "foot_hind_r"]);
  });

  test("make pairs of those that lie opposite each other", () => {
    const study = studyNamed("a walk");
    const pairs = legPairsOf(study, 0).map((pair) =>
      pair.map(({ end }) => rigOf(study).ids[end].replace(/_[lr]$/, "")),
    );
    expect(pairs.toSorted()).toEqual([
      ["foot_fore", "foot_fore"],
      ["foot_hind", "foot_hind"],
    ]);
  });

  test("land a stride apart", () => {
    const study = studyNamed("a canter");
    for (const { landings } of treadsOf(study, 0)) {
      for (let k = 1; k < landings.length; k++) expect(landings[k] - landings[k - 1]).toBeCloseTo(16, 1);
    }
  });

  test("are none of a body that flies", () => {
    expect(treadsOf(studyNamed("wings that beat together"), 0)).toEqual([]);
  });
});
