import { existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readBvh } from "../../../packages/adapters/bvh/read.ts";
import { figuresOf, statureOf } from "../../../packages/core/rig/body.ts";
import { segmentsOf } from "../../../packages/core/rig/mass.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { metresPerUnitOf } from "../../../packages/core/rig/stature.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";

/** Recordings of the Debian package assimp-testmodels. */
const folder = "/usr/share/assimp/models/BVH";

const cmu = (side: "Left" | "Right") => {
  const part = side === "Left" ? "left" : "right";
  return {
    [`${part}Shoulder`]: `${side}Shoulder`,
    [`${part}UpperArm`]: `${side}Arm`,
    [`${part}Forearm`]: `${side}ForeArm`,
    [`${part}Hand`]: `${side}Hand`,
    [`${part}Thigh`]: `${side}UpLeg`,
    [`${part}Shin`]: `${side}Leg`,
    [`${part}Foot`]: `${side}Foot`,
    [`${part}Toes`]: `${side}ToeBase`,
  };
};
const joints = (side: "Left" | "Right") => {
  const part = side === "Left" ? "left" : "right";
  return {
    [`${part}Shoulder`]: `${side}Collar`,
    [`${part}UpperArm`]: `${side}Shoulder`,
    [`${part}Forearm`]: `${side}Elbow`,
    [`${part}Hand`]: `${side}Wrist`,
    [`${part}Thigh`]: `${side}Hip`,
    [`${part}Shin`]: `${side}Knee`,
    [`${part}Foot`]: `${side}Ankle`,
    [`${part}Toes`]: `${side}Toes`,
  };
};
const cmuBody = {
  root: "Hips",
  spine: "LowerBack",
  chest: "Spine1",
  neck: "Neck",
  head: "Head",
  leftFingers: "LeftFingerBase",
  rightFingers: "RightFingerBase",
  ...cmu("Left"),
  ...cmu("Right"),
};
const boxingBody = {
  root: "Hips",
  spine: "Ab",
  chest: "Chest",
  neck: "Neck",
  head: "Head",
  ...joints("Left"),
  ...joints("Right"),
};

describe.runIf(existsSync(folder))("recordings of real people", () => {
  it.each([
    // 1/0.45 inches: mocap.cs.cmu.edu/faqs.php.
    ["01_01", cmuBody, 2752, 120, 0.0254 / 0.45],
    ["01_03", cmuBody, 4511, 120, 0.0254 / 0.45],
    ["Boxing_Toes", boxingBody, 3070, 100, 0.01],
  ] as const)("%s: all parts, units and stature", (name, body, frames, rate, unit) => {
    const { shot } = readBvh(readFileSync(`${folder}/${name}.bvh`, "utf8"));
    if (shot === null) throw new Error("nothing was read");
    expect(shot.range).toEqual([1, frames]);
    expect(shot.frameRate).toEqual({ numerator: rate, denominator: 1 });
    const study = studyOf(shot, {
      rate: null,
      style: "full",
      registry: [],
      tiers: { minor: 0.3, major: 0.6 },
      checks: new Map(),
    });
    const figures = figuresOf(study);
    expect(figures).toHaveLength(1);
    expect(figures[0].kind).toBe("human");
    const first = Object.fromEntries(
      [...figures[0].parts].map(([part, nodes]) => [part, rigOf(study).ids[nodes[0]]]),
    );
    expect(first).toEqual(body);
    expect(metresPerUnitOf(study)).toBe(unit);
    expect(statureOf(study, 0)).toBeGreaterThan(1.4);
    expect(statureOf(study, 0)).toBeLessThan(2.1);
    expect(segmentsOf(study, 0).reduce((sum, { mass }) => sum + mass, 0)).toBeCloseTo(1, 12);
  });
});
