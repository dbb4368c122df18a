import { inDegrees } from "@keyside/core";
import type { Problems } from "../problems.ts";
import type { Accessors } from "./accessors.ts";
import { type Zoom, zoomTarget } from "./cameras.ts";
import { type FrameCount, onFrame, samplerModes, usableKeys } from "./curves.ts";
import type { GltfDocument } from "./document.ts";

/** The keys of what each camera sees, by its index, from the channels of an animation that drive it by a pointer. */
export function zoomsOf(
  { animations = [], cameras = [] }: GltfDocument,
  index: number,
  accessors: Accessors,
  { rate, first }: FrameCount,
  problems: Problems,
): ReadonlyMap<number, Zoom> {
  const zooms = new Map<number, Zoom>();
  const { channels = [], samplers = [] } = animations[index] ?? {};
  channels.forEach(({ sampler: which, target }, i) => {
    const drives = zoomTarget(target);
    if (drives === null) return;
    const { camera, isAngle } = drives;
    const at = `animations/${index}/channels/${i}`;
    const mode = samplerModes.get(samplers[which]?.interpolation ?? "LINEAR");
    const lens = isAngle ? cameras[camera]?.perspective : cameras[camera]?.orthographic;
    if (lens === undefined || zooms.has(camera) || mode === undefined || samplers[which] === undefined) {
      const message = `Channel ${i} drives what camera ${camera} sees, which it cannot; it is passed over.`;
      problems.add("animation-channel", message, 0, 0, at);
      return;
    }
    const times = accessors.numbers(samplers[which].input, 1);
    const output = accessors.numbers(samplers[which].output, 1);
    if (times === null || output === null) return;
    const perKey = mode === "cubic" ? 3 : 1;
    const order = usableKeys(times, output, perKey, at, problems);
    // Twice the half height; radians become degrees.
    const inUnits = (value: number) => (isAngle ? inDegrees(value) : 2 * value);
    const keys = order.map((key): Zoom["keys"][number] => {
      const frame = onFrame(times[key] * rate) + first;
      if (mode !== "cubic") return [frame, inUnits(output[key])];
      const [before, value, after] = output.subarray(3 * key, 3 * key + 3);
      return [frame, inUnits(value), { in: inUnits(before) / rate, out: inUnits(after) / rate }];
    });
    if (keys.length > 0) zooms.set(camera, { interpolation: mode, keys });
  });
  return zooms;
}
