import { PerspectiveCamera, Quaternion, Vector3 } from "three";
import { describe, expect, test } from "vitest";
import { AroundView, bestTurn, CameraView, type Place, type Seen } from "../../packages/player/view.ts";

const seen: Seen = { x: 0, y: 0, depth: 0, scale: 0 };
/** Poses of one frame. */
const still = (...points: readonly (readonly [number, number, number])[]) => ({
  at: Float32Array.from(points.flat()),
  count: 1,
});

describe("through the camera", () => {
  test("points are seen where a general 3D library sees them", () => {
    const [width, height, aspect, fieldOfView] = [800, 450, 16 / 9, 37];
    const peer = new PerspectiveCamera(fieldOfView, aspect, 0.01, 100);
    peer.position.set(1.2, 1.5, 4);
    peer.quaternion.copy(new Quaternion(0.05, 0.2, -0.03, 0.97).normalize());
    peer.updateMatrixWorld();
    const at = (x: number, y: number, z: number): [number, number, number] =>
      new Vector3(x, y, z).applyQuaternion(peer.quaternion).add(peer.position).toArray();
    const view = new CameraView({ id: "cam", at: 0, ahead: 1, above: 2, fieldOfView, aspect });
    view.aim(still(at(0, 0, 0), at(0, 0, -1), at(0, 1, 0)), 0, width, height);
    const points: readonly [number, number, number][] = [
      [0, 1, 0],
      [-0.6, 0.2, 1.4],
      [2, 2, -3],
    ];
    for (const point of points) {
      const there = new Vector3(...point).project(peer);
      expect(view.see(...point, seen)).toBe(true);
      expect(seen.x).toBeCloseTo(((there.x + 1) / 2) * width, 2);
      expect(seen.y).toBeCloseTo(((1 - there.y) / 2) * height, 2);
    }
    expect(view.see(...at(0, 0, 2), seen)).toBe(false);
  });

  test("it is the lens of each frame; an orthographic one shows what is far as large as what is near", () => {
    const view = new CameraView({
      ...{ id: "cam", at: 0, ahead: 1, above: 2, fieldOfView: 90, aspect: 2 },
      lenses: [
        { from: 0, fieldOfView: 90, aspect: 2 },
        { from: 1, fieldOfView: 0, extent: 4, aspect: 1 },
        { from: 3, fieldOfView: 0, aspect: 1 },
      ],
    });
    const [points, count] = [[0, 0, 0, 0, 0, -1, 0, 1, 0], 4];
    const poses = { at: Float32Array.from(points.flatMap((value) => Array(count).fill(value))), count };
    const lookAt = (sample: number, z: number) => {
      view.aim(poses, sample, 400, 200);
      return view.see(0, 1, z, seen) ? [seen.x, seen.y, seen.scale] : null;
    };
    // 90° are as high as twice the distance.
    expect(lookAt(0, -2)).toEqual([200, 50, 50].map((value) => expect.closeTo(value, 3)));
    for (const z of [-2, -9]) expect(lookAt(2, z)).toEqual([200, 50, 50].map((x) => expect.closeTo(x, 3)));
    expect(view.fit(400, 200)).toEqual([200, 200]);
    expect(view.holds).toBe(true);
    const place: Place = [0, 0, 0];
    expect(view.placeAt(200, 50, [0, 0, -9], place)).toBe(true);
    expect(place).toEqual([0, 1, -9].map((value) => expect.closeTo(value, 3)));
    expect(lookAt(3, -2)).toBeNull();
    expect(view.holds).toBe(false);
  });

  test("the picture is as large as fits", () => {
    const view = new CameraView({ id: "cam", at: 0, ahead: 1, above: 2, fieldOfView: 40, aspect: 2 });
    expect(view.fit(100, 100)).toEqual([100, 50]);
    expect(view.fit(400, 100)).toEqual([200, 100]);
  });
});

describe("from around", () => {
  const figure = { id: "one", root: 0, stature: 1.7, bones: [[0, 1, 0.1, 0]] } as const;

  test.each([0, 0.7, 2, -1.3])("the picture holds the figure, turned by %s", (turn) => {
    const poses = still([3, 0, -2], [3.4, 1.7, -1.2]);
    const view = new AroundView();
    view.turn = turn;
    view.frame([poses], [figure], [0, 0], 1.5);
    view.aim(poses, 0, 300, 200);
    for (const point of [0, 1]) {
      expect(view.see(poses.at[3 * point], poses.at[3 * point + 1], poses.at[3 * point + 2], seen)).toBe(
        true,
      );
      expect(seen.x).toBeGreaterThan(0);
      expect(seen.x).toBeLessThan(300);
      expect(seen.y).toBeGreaterThan(0);
      expect(seen.y).toBeLessThan(200);
    }
  });

  test("a figure that is followed stays in the middle, and is seen to rise", () => {
    const view = new AroundView();
    view.follows = 0;
    const poses = { at: Float32Array.of(0, 5, 1, 2, 0, -3, 0.5, 5.5, 1.5, 3, 0, -3), count: 2 };
    view.frame([poses], [figure], [0, 1], 1);
    const placeAt = (sample: number) => {
      view.aim(poses, sample, 200, 200);
      view.see(poses.at[sample], poses.at[2 + sample], poses.at[4 + sample], seen);
      return { ...seen };
    };
    const [first, second] = [placeAt(0), placeAt(1)];
    expect(second.x).toBeCloseTo(first.x, 3);
    expect(second.y).toBeLessThan(first.y);
  });

  test("from the best side a way runs from left to right at its full length", () => {
    const count = 12;
    const at = new Float32Array(3 * count);
    for (let i = 0; i < count; i++) [at[i], at[2 * count + i]] = [1 - 0.3 * i, 2 + 0.4 * i];
    const view = new AroundView();
    view.turn = bestTurn({ at, count }, 0, [0, count - 1]);
    view.tilt = 0;
    view.height = 10;
    view.aim({ at, count }, 0, 100, 100);
    const xs = [0, count - 1].map((i) => {
      view.see(at[i], at[count + i], at[2 * count + i], seen);
      return seen.x;
    });
    // Half a metre a frame, ten pixels a metre.
    expect(xs[1] - xs[0]).toBeCloseTo(0.5 * (count - 1) * 10, 3);
  });
});

describe("a place that is drawn at a pixel", () => {
  const eye: Place = [1.2, 1.5, 4];
  const camera = new CameraView({ id: "cam", at: 0, ahead: 1, above: 2, fieldOfView: 37, aspect: 16 / 9 });
  const turned = new Quaternion(0.05, 0.2, -0.03, 0.97).normalize();
  const at = (...way: Place): Place =>
    new Vector3(...way)
      .applyQuaternion(turned)
      .add(new Vector3(...eye))
      .toArray();
  const around = new AroundView();
  [around.turn, around.tilt, around.height] = [0.7, 0.4, 2.4];
  const views = [
    ["through the camera", camera, still(at(0, 0, 0), at(0, 0, -1), at(0, 1, 0))],
    ["from around", around, still([3, 0, -2])],
  ] as const;
  const through: Place = [0.3, 1.1, -0.4];

  test.each(views)("is seen there again, %s", (_, view, poses) => {
    view.aim(poses, 0, 800, 450);
    const place: Place = [0, 0, 0];
    for (const [x, y] of [
      [400, 225],
      [120, 40],
      [777, 401],
    ] as const) {
      expect(view.placeAt(x, y, through, place)).toBe(true);
      expect(view.see(...place, seen)).toBe(true);
      // Poses are single numbers of 32 bits, so that a camera's axes stand square to a few millionths.
      expect(seen.x).toBeCloseTo(x, 2);
      expect(seen.y).toBeCloseTo(y, 2);
    }
  });

  test.each(views)("lies in the plane through the part that faces whoever looks, %s", (_, view, poses) => {
    view.aim(poses, 0, 800, 450);
    const [place, way]: [Place, Place] = [
      [0, 0, 0],
      [0, 0, 0],
    ];
    view.facing(way);
    expect(Math.hypot(...way)).toBeCloseTo(1, 5);
    view.placeAt(90, 333, through, place);
    const off = place.reduce((sum, value, axis) => sum + (value - through[axis]) * way[axis], 0);
    expect(off).toBeCloseTo(0, 5);
  });

  test("behind the camera there is none", () => {
    camera.aim(still(at(0, 0, 0), at(0, 0, -1), at(0, 1, 0)), 0, 800, 450);
    expect(camera.placeAt(10, 10, at(0, 0, 3), [0, 0, 0])).toBe(false);
  });
});
