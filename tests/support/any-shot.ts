import fc from "fast-check";
import type { Shot } from "../../packages/core/document/model.ts";
import { shotOf } from "../../packages/core/document/read.ts";
import type { CurveDocument } from "../../packages/core/document/schema.ts";

/** Arbitrary shots: chains and trees whose channels are keyed in all ways that there are. */

const number = (size: number) => fc.integer({ min: -1000, max: 1000 }).map((n) => (n / 1000) * size);
const vector = (size: number) => fc.tuple(number(size), number(size), number(size));
const quaternion = fc
  .tuple(number(1), number(1), number(1), number(1))
  .filter((q) => Math.hypot(...q) > 0.1)
  .map((q): [number, number, number, number] => {
    const length = Math.hypot(...q);
    return [q[0] / length, q[1] / length, q[2] / length, q[3] / length];
  });
const firstFrame = 101;
const frames = fc
  .uniqueArray(fc.integer({ min: 0, max: 24 }), { minLength: 1, maxLength: 6 })
  .map((list) => list.sort((a, b) => a - b).map((frame) => firstFrame + frame));
const mode = fc.constantFrom("step", "linear", "smooth", "bezier", "cubic");

type Curve = CurveDocument["curves"][number];

const many = <T>(one: fc.Arbitrary<T>) => fc.array(one, { minLength: 18, maxLength: 18 });

/** Keys of one number, with handles where they mean something. */
const scalarKeys = (size: number) =>
  fc.tuple(mode, frames, many(number(size)), many(fc.boolean())).map(
    ([interpolation, at, values, has]): Pick<Curve, "interpolation" | "keys"> => ({
      interpolation: interpolation as "linear",
      keys: at.map((frame, key) => {
        const [value, before, after] = values.slice(3 * key);
        if ((interpolation !== "bezier" && interpolation !== "cubic") || !has[key]) return [frame, value];
        return interpolation === "cubic"
          ? [frame, value, { in: before / 10, out: after / 10 }]
          : [frame, value, { in: [-0.3, before / 10], out: [0.3, after / 10] }];
      }),
    }),
  );

const quaternionKeys = fc.tuple(fc.constantFrom("step", "linear", "cubic"), frames, many(quaternion)).map(
  ([interpolation, at, values]): Pick<Curve, "interpolation" | "keys"> => ({
    interpolation: interpolation as "linear",
    keys: at.map((frame, key) => [frame, values[key]]),
  }),
);

const node = fc.record({
  parent: fc.nat(),
  translation: vector(0.5),
  rotation: vector(90),
  order: fc.constantFrom("xyz", "xzy", "yxz", "yzx", "zxy", "zyx"),
  fixed: fc.option(quaternion, { nil: undefined }),
  shift: fc.option(scalarKeys(1), { nil: undefined }),
  together: fc.boolean(),
  turn: fc.oneof(fc.constant(null), scalarKeys(170), quaternionKeys),
});

/** How a shot is made, where it has to do without something. */
export interface Kinds {
  /** Whether nodes may turn by quaternions. */
  readonly quaternions?: boolean;
}

/** Shots of one to five nodes over 25 frames from 101 on, in any unit and with any axis up. */
export function anyShot({ quaternions = true }: Kinds = {}): fc.Arbitrary<Shot> {
  return fc
    .record({
      nodes: fc.array(node, { minLength: 1, maxLength: 5 }),
      unit: fc.constantFrom(1, 0.01, 0.0254),
      up: fc.constantFrom("x", "y", "z"),
      rate: fc.constantFrom(24, 25, "24000/1001", "30000/1001"),
    })
    .map(({ nodes, unit, up, rate }) => {
      const curves: Curve[] = [];
      const inUnits = (value: number) => value / unit;
      nodes.forEach(({ shift, together, turn }, i) => {
        const id = `node ${i}`;
        if (shift !== undefined) {
          const channels = together ? (["x", "y", "z"] as const) : (["y"] as const);
          for (const axis of channels) {
            curves.push({ node: id, channel: `translation.${axis}`, ...scaled(shift, 1 / unit) });
          }
        }
        if (turn === null) return;
        const isQuaternion = Array.isArray(turn.keys[0]?.[1]);
        if (isQuaternion && quaternions) curves.push({ node: id, channel: "rotation", ...turn });
        else if (!isQuaternion) curves.push({ node: id, channel: "rotation.y", ...turn });
      });
      const { shot, problems } = shotOf({
        format: "keyside.curves",
        version: 1,
        shot: { name: "any", frameRate: rate, range: [firstFrame, firstFrame + 24] },
        space: { metresPerUnit: unit, up: up as "y", angle: "degrees" },
        nodes: nodes.map(({ parent, translation, rotation, order, fixed }, i) => ({
          id: `node ${i}`,
          ...(i === 0 ? {} : { parent: `node ${parent % i}` }),
          translation: translation.map(inUnits) as [number, number, number],
          rotation,
          rotationOrder: order as "xyz",
          ...(fixed === undefined ? {} : { fixedRotation: fixed }),
        })),
        curves,
      });
      if (shot === null || problems.length > 0)
        throw new Error(problems.map(({ message }) => message).join("; "));
      return shot;
    });
}

function scaled(
  { interpolation, keys }: Pick<Curve, "interpolation" | "keys">,
  factor: number,
): Pick<Curve, "interpolation" | "keys"> {
  const times = (value: unknown): unknown =>
    typeof value === "number" ? value * factor : Array.isArray(value) ? [value[0], value[1] * factor] : value;
  return {
    ...(interpolation === undefined ? {} : { interpolation }),
    keys: keys.map(([frame, value, extras]) =>
      extras === undefined
        ? [frame, (value as number) * factor]
        : [frame, (value as number) * factor, { in: times(extras.in), out: times(extras.out) }],
    ) as Curve["keys"],
  };
}
