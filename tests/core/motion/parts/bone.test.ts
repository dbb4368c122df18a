import { describe, expect, test } from "vitest";
import { boneAngles, boneTurns, carriedTurns } from "../../../../packages/core/motion/parts/bone.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { chainDocument, everyFrame, studyOf } from "../../../support/shots.ts";

const radians = Math.PI / 180;

/** A chain along +x; its joints by name. */
function chain(curves: Parameters<typeof chainDocument>[1]) {
  const study = studyOf(chainDocument(2, curves));
  const { indexOf } = rigOf(study);
  return { study, node: (id: string) => indexOf.get(id) as number };
}

describe("the turning of a bone", () => {
  test("is that of its direction: a roll about its length is none", () => {
    const rolled = chain({ "joint_1 rotation.x": everyFrame(1, 10, (f) => 8 * f) });
    const swung = chain({ "joint_1 rotation.z": everyFrame(1, 10, (f) => 8 * f) });
    for (const { study, node } of [rolled, swung]) {
      const turns = boneTurns(study, node("joint_1"), node("joint_2"));
      const each = study === swung.study ? 8 * radians : 0;
      expect(turns[0]).toBe(0);
      for (const turn of turns.subarray(1)) expect(turn).toBeCloseTo(each, 9);
      expect(boneAngles(study, node("joint_1"), node("joint_2"))(0, 5)).toBeCloseTo(5 * each, 9);
    }
  });

  test("as it would be if the bone were fixed to its parent leaves its own turns out", () => {
    const { study, node } = chain({
      "joint_1 rotation.z": everyFrame(1, 10, (f) => 5 * f),
      "joint_2 rotation.z": everyFrame(1, 10, (f) => -3 * f),
    });
    const carried = carriedTurns(study, node("joint_2"), node("tip"), 0);
    const own = boneTurns(study, node("joint_2"), node("tip"));
    for (let i = 1; i < 10; i++) {
      expect(carried[i]).toBeCloseTo(5 * radians, 9);
      expect(own[i]).toBeCloseTo(2 * radians, 9);
    }
    expect(carriedTurns(study, node("mount"), node("joint_1"), 0).every((turn) => turn === 0)).toBe(true);
  });
});
