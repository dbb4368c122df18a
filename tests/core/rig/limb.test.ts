import { expect, test } from "vitest";
import { limbReachOf } from "../../../packages/core/rig/limb.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedDocument, studyOf } from "../../support/shots.ts";

test("a leg's reach shortens as it bends: by the law of cosines", () => {
  const study = studyOf(bipedDocument({ "shin_l rotation.x": [[1, 90]] }, { range: [1, 3] }));
  const node = (id: string) => rigOf(study).indexOf.get(id) ?? -1;
  expect([...limbReachOf(study, node("thigh_l"), node("foot_l"))]).toEqual(
    new Array(3).fill(expect.closeTo(0.42 * Math.SQRT2, 9)),
  );
});
