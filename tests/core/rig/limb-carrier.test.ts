import { describe, expect, test } from "vitest";
import { isOnLimbTo, limbCarrierOf } from "../../../packages/core/rig/limb-carrier.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedDocument, studyOf } from "../../support/shots.ts";

const study = studyOf(bipedDocument({}));
const { ids, indexOf } = rigOf(study);
const node = (id: string) => indexOf.get(id) ?? -1;

describe("what carries a limb", () => {
  test.each([
    ["hand_l", "shoulder_l"],
    ["foot_r", "hips"],
    ["head", "chest"],
    ["chest", "hips"],
  ])("%s is carried by %s", (part, carrier) => {
    expect(ids[limbCarrierOf(study, node(part))]).toBe(carrier);
  });

  test.each(["hips", "spine", "neck", "upper_arm_l", "thigh_r"])(
    "the first joint, %s, turns where it is carried",
    (part) => {
      expect(limbCarrierOf(study, node(part))).toBe(-1);
    },
  );

  test("a limb goes from its first joint down to what hangs on it", () => {
    for (const joint of ["thigh_l", "shin_l", "foot_l"]) {
      expect(isOnLimbTo(study, node(joint), node("toes_l")), joint).toBe(true);
    }
    for (const other of ["hips", "thigh_r"]) {
      expect(isOnLimbTo(study, node(other), node("toes_l")), other).toBe(false);
    }
  });
});
