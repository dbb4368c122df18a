import { type Curve, interpolations, type Shot } from "@keyside/core";
import { steadyAngles } from "../steady-angles.ts";

const linear = interpolations.indexOf("linear");

/**
 * Curves whose turns go the shorter way from frame to frame, where a table lists all three angles of a node on every
 * frame, as recordings do; see {@link steadyAngles}. Keys that are set here and there mean the way that they name.
 * @param nodes tell the order of a node's three turns; x, y, z where they do not
 * @returns the curves in their order; those that change are new
 */
export function steadyTurns(
  curves: readonly Curve[],
  nodes: readonly Shot["header"]["nodes"][number][],
): Curve[] {
  const orders = new Map(nodes.map(({ id, rotationOrder }) => [id, rotationOrder]));
  const byName = new Map(curves.map((curve) => [`${curve.node} ${curve.channel}`, curve]));
  const steady = new Map<Curve, Curve>();
  for (const { node, channel } of curves) {
    if (channel !== "rotation.x") continue;
    const turns = [...(orders.get(node) ?? "xyz")].map((axis) => byName.get(`${node} rotation.${axis}`));
    const [first] = turns;
    if (first === undefined || !turns.every((turn) => turn !== undefined && isOnEveryFrame(turn, first)))
      continue;
    const [a, b, c] = turns.map((turn) => Float64Array.from(turn?.values ?? []));
    steadyAngles(a, b, c);
    [a, b, c].forEach((values, k) => {
      const turn = turns[k];
      if (turn !== undefined) steady.set(turn, { ...turn, values });
    });
  }
  return curves.map((curve) => steady.get(curve) ?? curve);
}

/** Whether a curve runs straight from key to key, one on every frame, on the frames of another. */
function isOnEveryFrame({ frames, modes }: Curve, like: Curve): boolean {
  return (
    frames.length === like.frames.length &&
    modes.every((mode) => mode === linear) &&
    frames.every((frame, k) => frame === like.frames[k] && (k === 0 || frame === frames[k - 1] + 1))
  );
}
