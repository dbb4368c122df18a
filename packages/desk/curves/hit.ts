import type { FramesView } from "./frames-view.ts";
import { type HandlePlace, placeOfHandle, type Side } from "./handles.ts";
import { head, type Lane, type Lanes, laneY } from "./lanes.ts";
import { firstFrom, keyAt, type Picked } from "./picked.ts";

/** What lies under a pointer: a key, a handle of a key, or nothing but a lane. */
export interface Hit {
  readonly lane: Lane;
  /** Index of the key; -1 for none. */
  readonly key: number;
  readonly part: "key" | Side | "lane";
}

const place: HandlePlace = { frame: 0, value: 0, isOwn: false };

/**
 * What lies at a pixel: the nearest key, or handle of a chosen key, within reach; where a handle lies on its key, the
 * key.
 * @param reach pixels: fewer for a mouse than for a finger
 */
export function hitAt(
  lanes: Lanes,
  view: FramesView,
  picked: Picked,
  x: number,
  y: number,
  reach: number,
): Hit | null {
  const lane = lanes.at(y);
  if (lane === null) return null;
  const { curve } = lane;
  let [key, part, nearest]: [number, Hit["part"], number] = [-1, "lane", reach];
  const until = view.frameAt(x + reach);
  for (let i = firstFrom(curve.frames, view.frameAt(x - reach)); i < curve.frames.length; i++) {
    if (curve.frames[i] > until) break;
    const at = clampedY(lane, laneY(lane, curve.values[i * curve.width]));
    const distance = Math.hypot(view.xOf(curve.frames[i]) - x, at - y);
    if (distance < nearest) [key, part, nearest] = [i, "key", distance];
  }
  for (const pick of picked.all) {
    if (pick.name !== lane.name) continue;
    const index = keyAt(curve, pick.frame);
    if (index < 0) continue;
    for (const side of ["in", "out"] as const) {
      if (!placeOfHandle(curve, index, side, place)) continue;
      const at = clampedY(lane, laneY(lane, place.value));
      const distance = Math.hypot(view.xOf(place.frame) - x, at - y);
      if (distance < nearest) [key, part, nearest] = [index, side, distance];
    }
  }
  return { lane, key, part };
}

/** What would stand beyond a lane's edges is drawn, and taken hold of, at the edge. */
export function clampedY(lane: Lane, y: number): number {
  return Math.min(lane.top + lane.height - 3, Math.max(lane.top - head / 2, y));
}
