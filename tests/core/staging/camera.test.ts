import fc from "fast-check";
import { Group, OrthographicCamera, PerspectiveCamera, Vector3 } from "three";
import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { lensOf } from "../../../packages/core/staging/camera.ts";
import { screenOf } from "../../../packages/core/staging/screen.ts";
import { documentOf, everyFrame, studyOf } from "../../support/shots.ts";

const last = 12;
const place = fc.tuple(
  fc.double({ min: -5, max: 5, noNaN: true }),
  fc.double({ min: -5, max: 5, noNaN: true }),
  fc.double({ min: -5, max: 5, noNaN: true }),
);
const turn = fc.double({ min: -180, max: 180, noNaN: true });
const way = fc.record({ from: place, to: place, yaw: turn, pitch: turn, by: turn });
const lens = fc.record({
  isFlat: fc.boolean(),
  aspect: fc.double({ min: 0.3, max: 3, noNaN: true }),
  from: fc.double({ min: 2, max: 170, noNaN: true }),
  to: fc.double({ min: 2, max: 170, noNaN: true }),
  unit: fc.constantFrom(1, 0.01, 0.3048),
});

/** Part of the way that is gone at a frame. */
const gone = (frame: number) => (frame - 1) / (last - 1);
const between = (a: number, b: number, frame: number) => a + (b - a) * gone(frame);
type Way = typeof way extends fc.Arbitrary<infer T> ? T : never;
type LensOf = typeof lens extends fc.Arbitrary<infer T> ? T : never;

/** A camera on a crane that turns, its zoom keyed, and a point that moves. */
function documentWith(camera: Way, point: Way, { isFlat, aspect, from, to, unit }: LensOf): CurveDocument {
  const course = (a: number, b: number) => everyFrame(1, last, (frame) => between(a, b, frame));
  const path = (node: string, { from: a, to: b }: Way) =>
    Object.fromEntries(
      (["x", "y", "z"] as const).map((axis, k) => [`${node} translation.${axis}`, course(a[k], b[k])]),
    );
  return documentOf(
    [
      { id: "point" },
      { id: "crane", rotationOrder: "yxz" },
      {
        id: "cam",
        parent: "crane",
        translation: [0.2, 0.1, 0.4],
        rotationOrder: "zyx",
        rotation: [7, -12, 4],
      },
    ],
    {
      ...path("point", point),
      ...path("crane", camera),
      "crane rotation.y": course(camera.yaw, camera.yaw + camera.by / 3),
      "crane rotation.x": course(camera.pitch, camera.pitch + 20),
    },
    {
      unit,
      more: {
        cameras: [
          {
            id: "shotcam",
            node: "cam",
            aspect,
            near: 0.001,
            ...(isFlat ? { verticalExtent: from } : { verticalFieldOfView: from }),
            zoom: {
              keys: [
                [1, from],
                [last, to],
              ],
            },
          },
        ],
      },
    },
  );
}

const rad = Math.PI / 180;

/** Where a general 3D library sees the point at a frame: −1 to 1 across the picture, and its depth in metres. */
function peerSees(camera: Way, point: Way, { isFlat, aspect, from, to, unit }: LensOf, frame: number) {
  const size = between(from, to, frame);
  const half = (size * unit) / 2;
  const peer = isFlat
    ? new OrthographicCamera(-half * aspect, half * aspect, half, -half, 1e-4, 100)
    : new PerspectiveCamera(size, aspect, 1e-4, 100);
  const crane = new Group();
  const at = (way: Way) => way.from.map((a, k) => between(a, way.to[k], frame)) as [number, number, number];
  crane.position.set(...at(camera));
  crane.rotation.set(
    (camera.pitch + 20 * gone(frame)) * rad,
    (camera.yaw + (camera.by / 3) * gone(frame)) * rad,
    0,
    "YXZ",
  );
  peer.position.set(0.2, 0.1, 0.4);
  peer.rotation.set(7 * rad, -12 * rad, 4 * rad, "ZYX");
  crane.add(peer);
  crane.updateMatrixWorld(true);
  peer.matrixWorldInverse.copy(peer.matrixWorld).invert();
  const world = new Vector3(...at(point));
  const depth = -world.clone().applyMatrix4(peer.matrixWorldInverse).z;
  return { there: world.project(peer), depth };
}

describe("through the shot's camera", () => {
  test("points are seen where a general 3D library sees them, at every frame, through cameras of both kinds that move and zoom", () => {
    fc.assert(
      fc.property(way, way, lens, (camera, point, kind) => {
        const study = studyOf(documentWith(camera, point, kind));
        const seen = screenOf(study, rigOf(study).indexOf.get("point") as number) as Float64Array;
        for (let i = 0; i < last; i++) {
          const { there, depth } = peerSees(camera, point, kind, i + 1);
          expect(seen[4 * i + 2]).toBeCloseTo(depth, 9);
          if (depth < 0.05) continue;
          const size = Math.max(1, Math.abs(there.x), Math.abs(there.y));
          expect(Math.abs((2 * seen[4 * i]) / kind.aspect - there.x)).toBeLessThan(1e-9 * size);
          expect(Math.abs(2 * seen[4 * i + 1] - there.y)).toBeLessThan(1e-9 * size);
        }
      }),
    );
  });

  const still = (cameras: CurveDocument["cameras"]) =>
    studyOf(
      documentOf(
        [{ id: "point", translation: [0, 0, -2] }, { id: "cam" }, { id: "back", translation: [0, 0, 2] }],
        { "point translation.x": everyFrame(1, 24, () => 0) },
        { more: { cameras } },
      ),
    );
  const depths = (cameras: CurveDocument["cameras"], node = "point") => {
    const study = still(cameras);
    const seen = screenOf(study, rigOf(study).indexOf.get(node) as number);
    return seen === null ? null : [0, 11, 12, 23].map((i) => seen[4 * i + 2]);
  };

  test("each frame is seen through the first camera whose frames hold it, and through none where none does", () => {
    const close = { id: "close", node: "cam", verticalFieldOfView: 30, frames: [1, 12] as [number, number] };
    const wide = { id: "wide", node: "back", verticalFieldOfView: 30 };
    expect(depths([close, wide])).toEqual([2, 2, 4, 4]);
    expect(depths([wide, close])).toEqual([4, 4, 4, 4]);
    expect(depths([close])).toEqual([2, 2, Number.NaN, Number.NaN]);
    expect(depths([])).toBeNull();
    expect(depths([{ id: "blank", node: "cam" }])).toBeNull();
  });

  test("what is nearer than a camera sees, farther, or behind it is not seen", () => {
    const x = (camera: object, node: string) => {
      const study = still([{ id: "cam", node: "cam", verticalFieldOfView: 30, ...camera }]);
      return (screenOf(study, rigOf(study).indexOf.get(node) as number) as Float64Array)[0];
    };
    expect(x({}, "point")).toBe(0);
    expect(x({ near: 2.1 }, "point")).toBeNaN();
    expect(x({ far: 1.9 }, "point")).toBeNaN();
    expect(x({}, "back")).toBeNaN();
    expect(x({}, "cam")).toBeNaN();
  });

  test("a zoom that its handles lead out of all pictures has none there", () => {
    const zoom = {
      interpolation: "bezier" as const,
      keys: [
        [1, 170, { out: [8, 300] }],
        [24, 20, { in: [-8, 0] }],
      ],
    };
    const study = still([{ id: "cam", node: "cam", verticalFieldOfView: 30, zoom } as never]);
    const { seen, half } = lensOf(study)!;
    expect(seen[0]).toBe(1);
    expect(seen[4]).toBe(0);
    expect([...half].every((one, i) => seen[i] === 0 || one > 0)).toBe(true);
  });
});
