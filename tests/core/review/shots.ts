import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";

/** A ball that goes where it is told: places in metres, one a frame from frame 1 on. */
export function ballAt(places: readonly (readonly [number, number, number])[], id = "ball") {
  const document: CurveDocument = {
    format: "keyside.curves",
    version: 1,
    shot: { name: "ball_0010", frameRate: 24, range: [1, places.length] },
    space: { metresPerUnit: 1, up: "y" },
    nodes: [{ id }],
    curves: (["x", "y", "z"] as const).map((axis, k) => ({
      node: id,
      channel: `translation.${axis}`,
      interpolation: "linear",
      keys: places.map((place, i): [number, number] => [i + 1, place[k] as number]),
    })),
  };
  const { shot, problems } = shotOf(document);
  if (shot === null) throw new Error(problems[0]?.message);
  return { shot, study: studyOf(shot, defaultSettings(registry)) };
}
