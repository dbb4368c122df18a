import type { Recompute } from "../shared/compare.ts";
import { angleBetween, range, sum, toRadians } from "../shared/geometry.ts";

const orders = ["xyz", "xzy", "yxz", "yzx", "zxy", "zyx"];

/** Over the frames that are marked: turns of the outer two axes, added up, over those of the joint. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const order = orders[shot.rig.order[node]];
  const inRadians = shot.shot.header.space?.angle === "radians" ? (value: number) => value : toRadians;
  const outer = shot
    .curvesOf(node)
    .filter(({ channel }) => channel === `rotation.${order[0]}` || channel === `rotation.${order[2]}`)
    .map((curve) => shot.values(curve));
  const swing = range(from + 1, to).map((i) =>
    sum(outer.map((values) => inRadians(Math.abs(values[i] - values[i - 1])))),
  );
  const parent = shot.rig.parent[node];
  const turn = (i: number) => (parent < 0 ? shot.turn(node, i) : shot.turnIn(node, parent, i));
  return sum(swing) / sum(range(from + 1, to).map((i) => angleBetween(turn(i - 1), turn(i))));
};
