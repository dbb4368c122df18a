import fc from "fast-check";
import type { Channel, Curve, Shot } from "../../../packages/core/document/model.ts";
import { type NodeSpec, rotationOrders } from "../../../packages/core/document/schema.ts";
import { builtShot, quaternionCurve, scalarCurve } from "./pose-shot.ts";

const axes = ["x", "y", "z"] as const;
const number = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });
const triple = (low: number, high: number) =>
  fc.tuple(number(low, high), number(low, high), number(low, high));

/** Any unit quaternion, from four numbers. */
export const anyQuaternion = fc
  .tuple(number(-1, 1), number(-1, 1), number(-1, 1), number(-1, 1))
  .filter((q) => Math.hypot(...q) > 0.1)
  .map((q): [number, number, number, number] => {
    const length = Math.hypot(...q);
    return [q[0] / length, q[1] / length, q[2] / length, q[3] / length];
  });

const node = (scaled: boolean) =>
  fc.record({
    upBy: fc.integer({ min: 1, max: 3 }),
    translation: triple(-2, 2),
    fixedRotation: fc.option(anyQuaternion),
    order: fc.constantFrom(...rotationOrders),
    rotation: triple(-180, 180),
    scale: scaled ? fc.option(triple(0.3, 2)) : fc.constant(null),
    turning: fc.constantFrom("axes", "one axis", "quaternion", "none"),
    turns: fc.array(triple(-200, 200), { minLength: 3, maxLength: 3 }),
    quaternions: fc.array(anyQuaternion, { minLength: 3, maxLength: 3 }),
    shift: fc.option(triple(-2, 2)),
    stretch: scaled ? fc.option(triple(0.5, 1.5)) : fc.constant(null),
  });

/** Random shots: up to 12 nodes, chains and branches, every rotation order, keys at the frames 0, 4 and 10. */
export function anyShot(scaled: boolean): fc.Arbitrary<Shot> {
  return fc
    .record({
      nodes: fc.array(node(scaled), { minLength: 2, maxLength: 12 }),
      up: fc.constantFrom("x" as const, "y" as const, "z" as const),
      metresPerUnit: fc.constantFrom(1, 0.01, 0.0254),
    })
    .map(({ nodes, up, metresPerUnit }) => {
      const curves: Curve[] = [];
      const specs = nodes.map((of, index): NodeSpec => {
        const id = `n${index}`;
        const parent = index === 0 ? {} : { parent: `n${Math.max(0, index - of.upBy)}` };
        const key = (channel: Channel, values: readonly number[], interpolation: "linear" | "smooth") =>
          curves.push(scalarCurve([0, 4, 10], values, interpolation, { node: id, channel }));
        axes.forEach((axis, a) => {
          const turns = of.turns.map((turn) => turn[a]);
          if (of.turning === "axes" || (of.turning === "one axis" && a === 1))
            key(`rotation.${axis}`, turns, "smooth");
          if (of.shift !== null && a !== 1)
            key(`translation.${axis}`, [of.shift[a], 1, of.shift[0]], "linear");
          if (of.stretch !== null && a !== 0) key(`scale.${axis}`, [1, of.stretch[a], 1.2], "linear");
        });
        if (of.turning === "quaternion") {
          curves.push(quaternionCurve([0, 4, 10], of.quaternions.flat(), "linear", { node: id }));
        }
        return {
          id,
          ...parent,
          translation: of.translation,
          rotation: of.rotation,
          rotationOrder: of.order,
          ...(of.fixedRotation === null ? {} : { fixedRotation: of.fixedRotation }),
          ...(of.scale === null ? {} : { scale: of.scale }),
        };
      });
      return builtShot(specs, curves, [0, 10], { metresPerUnit, up, angle: "degrees" });
    });
}
