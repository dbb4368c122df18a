import { describe, expect, test } from "vitest";
import { DrawnThings, type Pen } from "../../packages/player/draw/things.ts";
import type { Motion, MotionThing } from "../../packages/player/motion.ts";
import type { Poses } from "../../packages/player/unpack.ts";
import type { View } from "../../packages/player/view.ts";

/** Looks along −z, 100 pixels a metre. */
const front: View = {
  aim() {},
  see(x, y, z, seen) {
    Object.assign(seen, { x: 100 * x, y: -100 * y, depth: -z, scale: 100 });
    return true;
  },
  placeAt: () => false,
  facing() {},
};
const palette = { "--ink": "--ink", "--soft": "--soft", "--faint": "--faint", "--paper": "--paper" };

/** A pen that notes what it is asked to do. */
function pen() {
  const done: string[] = [];
  const short = (value: unknown) => (typeof value === "number" ? Math.round(10 * value) / 10 : value);
  const canvas = new Proxy({} as Record<string, unknown>, {
    get:
      (_, name) =>
      (...values: unknown[]) =>
        done.push(`${String(name)} ${values.map(short).join(" ")}`),
    set: (_, name, value) => {
      if (name === "fillStyle") done.push(`fillStyle ${value}`);
      return true;
    },
  });
  return { done, canvas: canvas as unknown as Pen };
}

/** Things of a shot with points that stay over two frames. */
function shown(
  things: readonly MotionThing[],
  points: readonly (readonly number[])[],
  more: Partial<Motion> = {},
) {
  const poses: Poses = { at: Float32Array.from(points.flat().flatMap((value) => [value, value])), count: 2 };
  return { drawn: new DrawnThings({ things, ...more } as Motion), poses };
}

const box = [
  [0, 0, 0],
  [1, 0, 0],
  [0, 0.5, 0],
  [0, 0, 0.25],
];
const crate = { id: "crate", point: 0, shapes: [{ points: [0, 1, 2, 3], radius: 0 }] };
const near = { areBehind: false, depth: 5 };

describe("things in the player", () => {
  test("a box is the face that looks this way, pale; flat and dark with eyes half shut", () => {
    const { drawn, poses } = shown([crate], box);
    const { done, canvas } = pen();
    drawn.solid(canvas, poses, 0, front, palette, false, near);
    expect(done.filter((one) => one.startsWith("moveTo"))).toHaveLength(1);
    expect(done).toEqual(
      expect.arrayContaining(["moveTo 0 0", "lineTo 100 0", "lineTo 100 -50", "lineTo 0 -50"]),
    );
    expect(done).toContain("fillStyle --faint");
    const squint = pen();
    drawn.solid(squint.canvas, poses, 0, front, palette, true, near);
    expect(squint.done).toContain("fillStyle --ink");
  });

  test("a ball is a disc of its radius, a capsule goes round both ends", () => {
    const shapes = [
      { points: [0], radius: 0.1 },
      { points: [0, 1], radius: 0.2 },
    ];
    const { drawn, poses } = shown([{ id: "club", point: 0, shapes }], box);
    const { done, canvas } = pen();
    drawn.solid(canvas, poses, 0, front, palette, false, near);
    const arcs = done.filter((one) => one.startsWith("arc"));
    expect(arcs).toEqual(["arc 0 0 10 0 6.3", "arc 0 0 20 1.6 -1.6", "arc 100 0 20 -1.6 1.6"]);
  });

  test("what is farther than the figure is drawn apart from what is nearer, each once", () => {
    const { drawn, poses } = shown([crate], box);
    const count = (areBehind: boolean, depth: number) => {
      const { done, canvas } = pen();
      drawn.solid(canvas, poses, 0, front, palette, false, { areBehind, depth });
      return done.filter((one) => one.startsWith("fill ")).length;
    };
    expect([count(true, -1), count(false, -1)]).toEqual([1, 0]);
    expect([count(true, 1), count(false, 1)]).toEqual([0, 1]);
  });

  test("hidden frames show nothing, and what has no shape is a mark", () => {
    const things = [
      { ...crate, seen: [[1, 1]] as const },
      { id: "cup", point: 1 },
    ];
    const { drawn, poses } = shown(things, box);
    const at = (sample: number) => {
      const { done, canvas } = pen();
      drawn.solid(canvas, poses, sample, front, palette, false, near);
      return done.filter((one) => /^(moveTo|rect)/.test(one));
    };
    expect(at(0)).toEqual(["rect 97 -3 6 6"]);
    expect(at(1)).toHaveLength(2);
  });

  test("a thing that is clicked is found by its whole shape", () => {
    const { drawn, poses } = shown([crate], box);
    expect(drawn.nearest(poses, 0, front, 80, -40)).toMatchObject({ point: 0 });
    expect(drawn.nearest(poses, 0, front, 80, -40)?.away).toBeLessThan(0);
    expect(drawn.nearest(poses, 0, front, 300, 0)?.away).toBeGreaterThan(100);
  });

  test("edges of surfaces are closed lines; after a fix only what has moved is drawn", () => {
    const { drawn, poses } = shown([crate], box, { edges: [{ id: "table", points: [0, 1, 3] }] });
    const around = pen();
    drawn.around(around.canvas, poses, 0, front, palette);
    expect(around.done.filter((one) => /^(moveTo|lineTo|closePath)/.test(one))).toHaveLength(4);
    const after = { at: poses.at.map((value) => value + 0.1), count: 2 };
    const outlines = (of: Poses) => {
      const { done, canvas } = pen();
      drawn.outline(canvas, of, poses, 0, front, 0.002);
      return done.length;
    };
    expect(outlines(poses)).toBe(0);
    expect(outlines(after)).toBeGreaterThan(0);
  });
});
