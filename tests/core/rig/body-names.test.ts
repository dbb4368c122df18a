import { describe, expect, it } from "vitest";
import { readName } from "../../../packages/core/rig/parts-by-name.ts";
import { nodesFrom, partIds, studyOf } from "./body-study.ts";

describe("readName", () => {
  const cases: [id: string, side: string | null, word: string | null][] = [
    ["Hips", null, "pelvis"],
    ["hip", null, "pelvis"],
    ["pelvis_jnt", null, "pelvis"],
    ["LHipJoint", "left", "hip"],
    ["hip.L", "left", "hip"],
    ["LowerBack", null, "spine"],
    ["spine_02", null, "spine"],
    ["Spine1", null, "spine"],
    ["Ab", null, "spine"],
    ["upper-chest", null, "chest"],
    ["thorax", null, "chest"],
    ["Neck1", null, "neck"],
    ["Head", null, "head"],
    ["lower_jaw", null, "jaw"],
    ["LeftCollar", "left", "collar"],
    ["clavicle_r", "right", "collar"],
    ["r_shldr", "right", "shoulder"],
    ["lShldr", "left", "shoulder"],
    ["LeftShoulder", "left", "shoulder"],
    ["LeftArm", "left", "arm"],
    ["crew:RightArm", "right", "arm"],
    ["upper_arm.L.001", "left", "upperArm"],
    ["l-upperarm-01", "left", "upperArm"],
    ["RightUpArm", "right", "upperArm"],
    ["humerusR", "right", "upperArm"],
    ["LeftForeArm", "left", "forearm"],
    ["leftforearm", "left", "forearm"],
    ["forearm_R", "right", "forearm"],
    ["lowerarm_l", "left", "forearm"],
    ["rElbow", "right", "forearm"],
    ["LEFTHAND", "left", "hand"],
    ["palm.R", "right", "hand"],
    ["RightWrist", "right", "hand"],
    ["arm_l_hand", "left", "hand"],
    ["LeftHandThumb1", "left", "finger"],
    ["LeftFingerBase", "left", "finger"],
    ["index_01_r", "right", "finger"],
    ["middle.02.L", "left", "finger"],
    ["LThumb", "left", "finger"],
    ["LeftUpLeg", "left", "thigh"],
    ["upper_leg_l", "left", "thigh"],
    ["rightupleg", "right", "thigh"],
    ["lThigh", "left", "thigh"],
    ["RightLeg", "right", "leg"],
    ["lleg", "left", "leg"],
    ["calf_l", "left", "shin"],
    ["LowLeg_R", "right", "shin"],
    ["lower-leg-r", "right", "shin"],
    ["RightKnee", "right", "shin"],
    ["shank.l", "left", "shin"],
    ["LeftAnkle", "left", "foot"],
    ["rfoot", "right", "foot"],
    ["foot_l", "left", "foot"],
    ["LeftToeBase", "left", "toes"],
    ["ball_r", "right", "toes"],
    ["tail_03", null, "tail"],
    ["wing_l_02", "left", "wing"],
    ["LeftEar", "left", "ears"],
    ["ponytail2", null, "hair"],
    ["root", null, "root"],
    ["scene/crew/RootJoint", null, "root"],
    ["ik_foot_l", "left", null],
    ["upperarm_twist_01_r", "right", null],
    ["eyelid_l", "left", null],
    ["head_eye_r", "right", null],
    ["front_leg_l", "left", "arm"],
    ["FrontFoot.R", "right", "hand"],
    ["hind_leg_l", "left", "leg"],
    ["rear_plate", null, null],
    ["lantern", null, null],
    ["Rib", null, "chest"],
    ["hd", null, "head"],
    ["spn2", null, "spine"],
    ["hnd_L", "left", "hand"],
    ["r_ft", "right", "foot"],
    ["upperarm_lf", "left", "upperArm"],
    ["foot_rt", "right", "foot"],
    ["l_uarm", "left", "upperArm"],
    ["r_larm", "right", "forearm"],
    ["lleg_L", "left", "shin"],
    ["larm", "left", "arm"],
    ["withers", null, "chest"],
    ["hdri", null, null],
  ];
  it.each(cases)("%s", (id, side, word) => {
    expect(readName(id)).toMatchObject({ side, word });
  });

  it("tells tips of chains and name spaces", () => {
    expect(readName("LeftToeBase_end")).toMatchObject({ end: true, word: "toes", side: "left" });
    expect(readName("Head_nub").end).toBe(true);
    expect(readName("HeadTop").end).toBe(true);
    expect(readName("spine_top").end).toBe(false);
    expect(readName("KRN_chain").hanging).toBe(true);
    expect(readName("rope_03_l").hanging).toBe(true);
    // A chain of joints, and what helps them.
    expect(readName("arm_chain_l")).toMatchObject({ hanging: false, word: "arm" });
    expect(readName("ik_chain").hanging).toBe(false);
    expect(readName("scene|courier:LeftArm").space).toBe("courier");
  });
});

describe("ambiguous words are settled along the limb", () => {
  const limbs = (lines: string) => partIds(studyOf(nodesFrom(lines)));

  it("takes a hip joint above an upper leg for no thigh", () => {
    const parts = limbs(`
Hips
LHipJoint < Hips
LeftUpLeg < LHipJoint @ 1 -2 0
LeftLeg < LeftUpLeg @ 0 -7 0
LeftFoot < LeftLeg @ 0 -7 0
LeftToeBase < LeftFoot @ 0 0 2`);
    expect(parts).toMatchObject({ leftThigh: "LeftUpLeg", leftShin: "LeftLeg", leftFoot: "LeftFoot" });
  });

  it("takes a hip above a knee for the thigh", () => {
    const parts = limbs(`
Hips
LeftHip < Hips @ 1 0 0
LeftKnee < LeftHip @ 0 -4 0
LeftAnkle < LeftKnee @ 0 -4 0
LeftFoot < LeftAnkle @ 0 -1 1`);
    expect(parts).toMatchObject({
      leftThigh: "LeftHip",
      leftShin: "LeftKnee",
      leftFoot: "LeftAnkle",
      leftToes: "LeftFoot",
    });
  });

  it("takes a leg above a knee for the thigh, a hip above both for none", () => {
    const parts = limbs(`
pelvis
hip_l < pelvis
leg_l < hip_l @ 1 0 0
knee_l < leg_l @ 0 -4 0
foot_l < knee_l @ 0 -4 0`);
    expect(parts).toMatchObject({ leftThigh: "leg_l", leftShin: "knee_l", leftFoot: "foot_l" });
  });

  it("counts a numbered chain from the base", () => {
    const parts = limbs(`
pelvis
leg_01_r < pelvis @ -1 0 0
leg_02_r < leg_01_r @ 0 -4 0
leg_03_r < leg_02_r @ 0 -4 0
arm1_r < pelvis @ -1 4 0
arm2_r < arm1_r @ -3 0 0
arm3_r < arm2_r @ -3 0 0`);
    expect(parts).toMatchObject({
      rightThigh: "leg_01_r",
      rightShin: "leg_02_r",
      rightFoot: "leg_03_r",
      rightUpperArm: "arm1_r",
      rightForearm: "arm2_r",
      rightHand: "arm3_r",
    });
  });

  it("takes a shoulder above an arm for the collar joint, below a collar for the upper arm, alone for the upper arm", () => {
    const arm = (...ids: string[]) =>
      partIds(
        studyOf(
          nodesFrom(["chest", ...ids.map((id, i) => `${id} < ${ids[i - 1] ?? "chest"} @ 2 0 0`)].join("\n")),
        ),
      );
    expect(arm("LeftShoulder", "LeftArm", "LeftForeArm", "LeftHand")).toMatchObject({
      leftShoulder: "LeftShoulder",
      leftUpperArm: "LeftArm",
      leftForearm: "LeftForeArm",
    });
    expect(arm("l_collar", "l_shoulder", "l_elbow", "l_wrist")).toMatchObject({
      leftShoulder: "l_collar",
      leftUpperArm: "l_shoulder",
      leftForearm: "l_elbow",
      leftHand: "l_wrist",
    });
    const alone = arm("shoulder.L", "elbow.L", "wrist.L");
    expect(alone).toMatchObject({ leftUpperArm: "shoulder.L", leftForearm: "elbow.L" });
    expect(alone["leftShoulder"]).toBeUndefined();
  });

  it("gives a side to fingers and toes that only a parent's name tells", () => {
    const parts = limbs(`
chest
hand_l < chest @ 5 0 0
thumb_01 < hand_l @ 1 0 0
index_01 < hand_l @ 1 0 0
index_02 < index_01 @ 1 0 0`);
    expect(parts["leftFingers"]).toBe("thumb_01 index_01 index_02");
  });
});
