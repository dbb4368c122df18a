import { describe, expect, test } from "vitest";
import { isOnLimbTo, limbCarrierOf, trunkCarrierOf } from "../../../packages/core/rig/limb-carrier.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedDocument, documentOf, everyFrame, studyOf } from "../../support/shots.ts";

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

  test("a tail behind a trunk that swings with it is carried by what carries the trunk as well", () => {
    const links = ["spine_1", "spine_2", "spine_3", "tail_1", "tail_2", "tail_3"];
    const fish = documentOf(
      [
        { id: "hips" },
        { id: "head", parent: "hips", translation: [0, 0, 0.3] },
        ...links.map((id, k) => ({
          id,
          parent: links[k - 1] ?? "hips",
          translation: [0, 0, -0.2] as [number, number, number],
        })),
      ],
      { "tail_1 rotation.y": everyFrame(1, 24, (frame) => frame) },
    );
    const swims = studyOf(fish);
    const rig = rigOf(swims);
    const tip = rig.indexOf.get("tail_3") ?? -1;
    expect(rig.ids[limbCarrierOf(swims, tip)]).toBe("spine_3");
    expect(rig.ids[trunkCarrierOf(swims, tip)]).toBe("hips");
    expect(trunkCarrierOf(study, node("hand_l"))).toBe(-1);
  });
});
