import { add, product, type Quat, turned, type Vec } from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

const orders = ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"] as const;
const axes = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] } as const;

/** Place of a node in the rest pose, document units and axes: translations, fixed rotations, rest rotations and scales. */
export function restPlace(shot: Sampled, node: number): Vec {
  const { rig } = shot;
  const chain: number[] = [];
  for (let at = node; at >= 0; at = rig.parent[at]) chain.unshift(at);
  // From the tip inwards: each node scales and turns what hangs on it, and shifts it by its own place.
  return chain.toReversed().reduce<Vec>(
    (place, at, k) => {
      const [tx, ty, tz] = rig.translation.subarray(3 * at, 3 * at + 3);
      if (k === 0) return [tx, ty, tz];
      const [sx, sy, sz] = rig.restScale.subarray(3 * at, 3 * at + 3);
      const scaled: Vec = [place[0] * sx, place[1] * sy, place[2] * sz];
      return add(turned(restTurn(shot, at), scaled), [tx, ty, tz]);
    },
    [0, 0, 0],
  );
}

/** Turn of a node against its parent in the rest pose. */
export function restTurn({ rig }: Sampled, node: number): Quat {
  const [x, y, z, w] = rig.fixedRotation.subarray(4 * node, 4 * node + 4);
  const angles = rig.restRotation.subarray(3 * node, 3 * node + 3);
  // "xyz" turns about x first.
  const own = [...orders[rig.order[node]]].reduce<Quat>(
    (turn, name) => {
      const axis = axes[name as "x" | "y" | "z"];
      const half = angles["xyz".indexOf(name)] / 2;
      const sine = Math.sin(half);
      return product([axis[0] * sine, axis[1] * sine, axis[2] * sine, Math.cos(half)], turn);
    },
    [0, 0, 0, 1],
  );
  return product([x, y, z, w], own);
}
