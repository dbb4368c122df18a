import type { CurveDocument } from "../../../packages/core/document/schema.ts";

/** An invented hand that swings for four seconds and leaves its path on one frame. */
export function poppingDocument(): CurveDocument {
  return swing((frame, value) => (frame === 48 ? value + 25 : value));
}

/** The same swing, undisturbed. */
export function cleanDocument(): CurveDocument {
  return swing((_, value) => value);
}

function swing(change: (frame: number, value: number) => number): CurveDocument {
  const keys: [number, number][] = [];
  for (let frame = 1; frame <= 96; frame++) {
    keys.push([frame, change(frame, 30 * Math.sin((frame - 1) / 12))]);
  }
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "pier_0010", frameRate: 24, range: [1, 96] },
    space: { metresPerUnit: 0.01 },
    nodes: [
      { id: "post", translation: [0, 150, 0] },
      { id: "sign", parent: "post", translation: [0, -40, 0] },
      { id: "rim", parent: "sign", translation: [0, -40, 0] },
    ],
    curves: [{ node: "post", channel: "rotation.z", keys }],
  };
}

/** A BVH file of one joint; \`rows\` are the lines of its motion. */
export function bvh(rows: readonly string[], count: number | string = rows.length): string {
  return `HIERARCHY
ROOT hips
{
  OFFSET 0 0 0
  CHANNELS 6 Xposition Yposition Zposition Zrotation Xrotation Yrotation
  JOINT chest
  {
    OFFSET 0 40 0
    CHANNELS 3 Zrotation Xrotation Yrotation
    End Site
    {
      OFFSET 0 40 0
    }
  }
}
MOTION
Frames: ${count}
Frame Time: 0.0416667
${rows.join("\n")}
`;
}
