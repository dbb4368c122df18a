import fc from "fast-check";
import { PerspectiveCamera, Quaternion, Vector3 } from "three";
import { describe, expect, test } from "vitest";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { pathOf, reachOf, spreadView } from "../../../../packages/server/present/sheet/draw/path-of.ts";
import { armPath, swingArm } from "../../../../packages/server/present/sheet/draw/swing.ts";
import {
  bestSide,
  cameraView,
  uprightSide,
  viewOf,
} from "../../../../packages/server/present/sheet/draw/view.ts";
import { along, chainDocument, documentOf, everyFrame, studyOf } from "../../../support/shots.ts";

/** A path through points. */
const through = (...points: readonly (readonly [number, number, number])[]) =>
  Float64Array.from(points.flat());
const whole = (path: Float64Array) => ({ from: 0, to: path.length / 3 - 1 });

describe("through the camera", () => {
  const angle = fc.double({ min: -180, max: 180, noNaN: true });
  const near = fc.double({ min: -4, max: 4, noNaN: true });
  const place = fc.tuple(near, near, near);

  // Reference: the perspective camera of three.js, which looks along its -z, too.
  test("a point is seen where three.js projects it", () => {
    fc.assert(
      fc.property(
        place,
        fc.tuple(angle, angle, angle),
        place,
        fc.double({ min: 10, max: 100, noNaN: true }),
        (at, turn, point, fov) => {
          const study = studyOf(
            documentOf(
              [{ id: "cam", rotationOrder: "xyz" }],
              {
                "cam translation.x": [[1, at[0]]],
                "cam translation.y": [[1, at[1]]],
                "cam translation.z": [[1, at[2]]],
                "cam rotation.x": [[1, turn[0]]],
                "cam rotation.y": [[1, turn[1]]],
                "cam rotation.z": [[1, turn[2]]],
              },
              { more: { cameras: [{ id: "c", node: "cam", verticalFieldOfView: fov, aspect: 1.5 }] } },
            ),
          );
          const view = cameraView(study, { from: 0, to: 0 });
          const reference = new PerspectiveCamera(fov, 1.5, 0.01, 100);
          reference.position.set(...at);
          const radians = turn.map((degrees) => (degrees * Math.PI) / 180);
          const axes = [new Vector3(1, 0, 0), new Vector3(0, 1, 0), new Vector3(0, 0, 1)];
          // Order "xyz": Rx · Ry · Rz.
          const q = new Quaternion();
          axes.forEach((axis, k) => {
            q.multiply(new Quaternion().setFromAxisAngle(axis, radians[k]));
          });
          reference.quaternion.copy(q);
          reference.updateMatrixWorld();
          const local = new Vector3(...point).applyMatrix4(reference.matrixWorldInverse);
          const seen = view?.see(point, 0, 0) ?? null;
          if (-local.z < 0.01) {
            expect(seen).toBeNull();
            return;
          }
          const projected = new Vector3(...point).project(reference);
          const size = Math.max(1, Math.abs(projected.x), Math.abs(projected.y));
          expect(Math.abs((seen?.x ?? 0) / (view?.frame?.halfWidth ?? 1) - projected.x) / size).toBeLessThan(
            1e-5,
          );
          expect(Math.abs((seen?.y ?? 0) / (view?.frame?.halfHeight ?? 1) - projected.y) / size).toBeLessThan(
            1e-5,
          );
          expect(seen?.depth).toBeCloseTo(-local.z, 8);
        },
      ),
      { numRuns: 60 },
    );
  });

  const shot = (target: (frame: number) => readonly [number, number, number]) =>
    studyOf(
      documentOf(
        [{ id: "cam" }, { id: "ball" }],
        { "cam translation.z": [[1, 5]], ...along("ball", 1, 20, target) },
        { more: { cameras: [{ id: "shotcam", node: "cam", verticalFieldOfView: 40 }] } },
      ),
    );
  const viewOfBall = (study: ReturnType<typeof shot>) => {
    const path = pathOf(study, rigOf(study).indexOf.get("ball") as number);
    return viewOf(study, path, whole(path));
  };

  test("is taken where the path is in the picture and shows", () => {
    expect(viewOfBall(shot((f) => [f / 20, 0, 0])).name).toBe("through shotcam");
  });

  test.each([
    ["behind the camera", (f: number) => [f / 20, 0, 8] as const],
    ["out of the picture", (f: number) => [9 + f / 20, 0, 0] as const],
    ["straight at the lens", (f: number) => [0, 0, f / 20] as const],
  ])("is not taken for a path that is %s", (_, target) => {
    expect(viewOfBall(shot(target)).kind).not.toBe("camera");
  });

  const cameras = {
    side: { id: "side", node: "cam", verticalExtent: 3 },
    wide: { id: "wide", node: "cam", verticalFieldOfView: 40 },
  };
  const throughOf = (
    list: { id: string; node: string; frames?: [number, number] }[],
    span = { from: 0, to: 0 },
  ) =>
    cameraView(
      studyOf(
        documentOf(
          [{ id: "cam" }, { id: "ball" }],
          { "ball translation.x": everyFrame(1, 20, (f) => f / 20) },
          { more: { cameras: list } },
        ),
      ),
      span,
    );

  test("it is the camera that holds at the frames, an orthographic one too, whose metres are all as large", () => {
    const { side, wide } = cameras;
    expect(throughOf([wide, side])?.name).toBe("through wide");
    const flat = throughOf([side, wide]);
    expect(flat?.name).toBe("through side");
    for (const z of [-1, -20]) {
      const seen = flat?.see([0.6, 1.5, z], 0, 0);
      // Of a picture that is 3 m high, 1.5 m above its middle is its edge.
      expect([seen?.x, seen?.y, seen?.scale]).toEqual([0.2, 0.5, 1 / 3].map((x) => expect.closeTo(x, 9)));
    }
  });

  test("after a cut it is the other one, and over the cut there is none", () => {
    const { side, wide } = cameras;
    const list = [
      { ...side, frames: [1, 10] as [number, number] },
      { ...wide, frames: [11, 20] as [number, number] },
    ];
    expect(throughOf(list, { from: 0, to: 9 })?.name).toBe("through side");
    expect(throughOf(list, { from: 10, to: 19 })?.name).toBe("through wide");
    expect(throughOf(list, { from: 9, to: 10 })).toBeNull();
  });

  test("a camera whose node is missing counts as none", () => {
    const study = studyOf(
      documentOf(
        [{ id: "ball" }],
        {},
        { more: { cameras: [{ id: "c", node: "nowhere", verticalFieldOfView: 40 }] } },
      ),
    );
    expect(cameraView(study, { from: 0, to: 0 })).toBeNull();
  });
});

describe("from the best side", () => {
  test("a path over the ground that rises and falls is seen from its side, from left to right, upright", () => {
    for (const turn of [0, 0.4, 1.7, -2.5]) {
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const path = through([0, 0, 0], [c, 0.5, s], [2 * c, 0, 2 * s]);
      const view = bestSide(path, whole(path));
      expect(view.kind).toBe("side");
      const seen = [0, 1, 2].map((i) => view.see(path, 3 * i, i));
      expect(seen.map((one) => one?.x)).toEqual([0, 1, 2].map((x) => expect.closeTo(x, 9)));
      expect(seen.map((one) => one?.y)).toEqual([0, 0.5, 0].map((y) => expect.closeTo(y, 9)));
    }
  });

  test("one that wanders over the ground is seen from above", () => {
    const path = through([0, 0, 0], [1, 0.01, 1], [2, 0, 0]);
    expect(bestSide(path, whole(path)).kind).toBe("above");
    expect(uprightSide(path, whole(path)).kind).toBe("side");
  });

  test("no view is a mirror: what is seen to the right, up and towards the eye is a right-handed set", () => {
    const coordinate = fc.double({ min: -2, max: 2, noNaN: true });
    fc.assert(
      fc.property(fc.array(coordinate, { minLength: 12, maxLength: 12 }), (numbers) => {
        const path = Float64Array.from(numbers);
        for (const view of [bestSide(path, whole(path)), uprightSide(path, whole(path))]) {
          const axes = [
            [1, 0, 0],
            [0, 1, 0],
            [0, 0, 1],
          ].map((axis) => view.see(axis, 0, 0));
          const m = axes.map((seen) => [seen?.x ?? 0, seen?.y ?? 0, -(seen?.depth ?? 0)]);
          const determinant =
            m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
            m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
            m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
          expect(determinant).toBeCloseTo(1, 9);
        }
      }),
    );
  });

  test("a path that stands still, or has one frame, has a side", () => {
    for (const path of [through([1, 1, 1]), through([1, 1, 1], [1, 1, 1])]) {
      const seen = bestSide(path, whole(path)).see(path, 0, 0);
      expect([seen?.x, seen?.y].every(Number.isFinite)).toBe(true);
    }
  });
});

describe("a path that lies on itself", () => {
  test("is drawn apart, each frame farther to the right, one of them where it is", () => {
    const jump = Float64Array.from({ length: 3 * 21 }, (_, k) =>
      k % 3 === 1 ? Math.sin((Math.PI * (k - 1)) / 60) : 0,
    );
    const view = uprightSide(jump, whole(jump));
    const spread = spreadView(view, jump, whole(jump), 10);
    expect(spread.way).toBe("right");
    expect(spread.apart).toBeCloseTo(0.7 / 21, 6);
    const xs = Array.from({ length: 21 }, (_, i) => spread.view.see(jump, 3 * i, i)?.x ?? Number.NaN);
    expect(xs[10]).toBeCloseTo(0, 9);
    for (let i = 1; i < 21; i++) expect(xs[i] - xs[i - 1]).toBeCloseTo(spread.apart, 9);
  });

  test("one that goes somewhere stays as it is", () => {
    const way = Float64Array.from({ length: 60 }, (_, k) => (k % 3 === 0 ? k / 30 : 0));
    expect(spreadView(uprightSide(way, whole(way)), way, whole(way), 0).apart).toBe(0);
    expect(reachOf(way, whole(way))).toBeCloseTo(57 / 30, 9);
  });
});

describe("the arm on which a turn shows", () => {
  const turning = (axis: "x" | "y" | "z") =>
    studyOf(chainDocument(1, { [`joint_1 rotation.${axis}`]: everyFrame(1, 10, (f) => 5 * f) }));
  const nodes = (study: ReturnType<typeof turning>) =>
    ["joint_1", "tip"].map((id) => rigOf(study).indexOf.get(id) as number);

  test("a bone that swings needs none", () => {
    const study = turning("z");
    const [joint, tip] = nodes(study);
    expect(swingArm(study, joint, tip, { from: 0, to: 9 }, 0.1)).toBeNull();
  });

  test("a bone that turns about itself gets one square to itself, which goes the way of the turn", () => {
    const study = turning("x");
    const [joint, tip] = nodes(study);
    const arm = swingArm(study, joint, tip, { from: 0, to: 9 }, 0.1);
    expect(arm?.[0]).toBeCloseTo(0, 9);
    expect(Math.hypot(...(arm ?? []))).toBeCloseTo(0.1, 9);
    const path = armPath(study, joint, arm ?? [0, 0, 0]);
    // 5° a frame on an arm of 10 cm.
    for (let i = 1; i < 10; i++) {
      const step = Math.hypot(...[0, 1, 2].map((k) => path[3 * i + k] - path[3 * i - 3 + k]));
      expect(step).toBeCloseTo(2 * 0.1 * Math.sin((2.5 * Math.PI) / 180), 9);
    }
  });

  test("without a turn there is none", () => {
    const study = studyOf(chainDocument(1, { "joint_1 rotation.x": [[1, 3]] }));
    const [joint, tip] = nodes(study);
    expect(swingArm(study, joint, tip, { from: 0, to: 0 }, 0.1)).toBeNull();
  });
});
