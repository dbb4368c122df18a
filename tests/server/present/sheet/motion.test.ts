import { describe, expect, test } from "vitest";
import { editShot } from "../../../../packages/core/document/edit.ts";
import { worldOf } from "../../../../packages/core/index.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { gridOf } from "../../../../packages/core/time/grid.ts";
import { posesAfter, posesOf } from "../../../../packages/player/unpack.ts";
import type { JudgedVersion } from "../../../../packages/server/judge/shots/judged-version.ts";
import { makeSheet } from "../../../../packages/server/present/sheet/make.ts";
import { motionOf } from "../../../../packages/server/present/sheet/motion.ts";
import { sheetPage } from "../../../../packages/server/present/sheet/page.ts";
import { asData, playerScript } from "../../../../packages/server/present/sheet/player-script.ts";
import { bipedDocument, bipedNodes, everyFrame } from "../../../support/shots.ts";
import { judged, wavingDocument, withCamera } from "./shots.ts";

function moving(version: JudgedVersion) {
  const { notes } = makeSheet(version, { previous: null, fixes: true, lightest: "polish" });
  const { loaded, settings } = version;
  const fixed = new Map(
    notes.flatMap((note) =>
      note.fix === null ? [] : [[note, studyOf(editShot(loaded.shot, note.fix.edits), settings)] as const],
    ),
  );
  return { notes, fixed, motion: motionOf(version, notes, (note) => fixed.get(note) ?? null) };
}

/** The point of the first figure's bone that ends at a node, by where it is at every frame. */
const away = (at: Float32Array, count: number, point: number, path: Float64Array) => {
  let most = 0;
  for (let i = 0; i < count; i++) {
    const way = [0, 1, 2].map((axis) => at[(3 * point + axis) * count + i] - path[3 * i + axis]);
    most = Math.max(most, Math.hypot(...way));
  }
  return most;
};

describe("a shot as it is played", () => {
  test("has every drawn joint where the judged shot has it", async () => {
    const version = await judged(wavingDocument());
    const { motion } = moving(version);
    const { study } = version;
    const { count } = gridOf(study);
    const { at } = await posesOf(motion);
    expect(motion).toMatchObject({ count, rate: 24, firstFrame: 1, frameStep: 1, camera: null });
    const paths = [...rigOf(study).indexOf.values()].map((node) => worldOf(study, node).position);
    for (const point of new Set(motion.figures[0].bones.flatMap((bone) => bone.slice(0, 2)))) {
      const nearest = Math.min(...paths.map((path) => away(at, count, point, path)));
      expect(nearest).toBeLessThan(motion.grain);
    }
  });

  test("has the notes' frames, and what a fix moves", async () => {
    const version = await judged(wavingDocument());
    const { motion, notes, fixed } = moving(version);
    const told = motion.notes.find(({ fix }) => fix !== null);
    expect(told).toBeDefined();
    if (told === undefined || told.fix === null) return;
    const sheetNote = notes.find(({ number }) => number === told.number);
    expect(told.message).toBe(sheetNote?.message);
    expect([told.from + 1, told.to + 1]).toEqual(sheetNote?.note?.frames);
    const study = fixed.get(sheetNote as never);
    const after = await posesAfter(await posesOf(motion), told.fix, motion.grain);
    const hand = rigOf(version.study).indexOf.get("hand_l") as number;
    const [place] = motion.figures[0].bones
      .flatMap(([, to]) => to)
      .sort(
        (a, b) =>
          away(after.at, motion.count, a, worldOf(study as never, hand).position) -
          away(after.at, motion.count, b, worldOf(study as never, hand).position),
      );
    expect(away(after.at, motion.count, place, worldOf(study as never, hand).position)).toBeLessThan(
      2 * motion.grain,
    );
    expect(away(after.at, motion.count, place, worldOf(version.study, hand).position)).toBeGreaterThan(0.01);
  });

  test("has the camera as three points", async () => {
    const { motion } = moving(await judged(wavingDocument({}, withCamera)));
    const { at, count } = await posesOf(motion);
    const { camera } = motion;
    const place = (point: number) => [0, 1, 2].map((axis) => at[(3 * point + axis) * count]);
    expect(camera).toMatchObject({ id: "shotcam", fieldOfView: 40, aspect: 16 / 9 });
    if (camera === null) return;
    for (const [point, expected] of [
      [camera.at, [0, 1.2, 3.5]],
      [camera.ahead, [0, 1.2, 2.5]],
      [camera.above, [0, 2.2, 3.5]],
    ] as const) {
      place(point).forEach((value, axis) => {
        expect(value).toBeCloseTo(expected[axis], 3);
      });
    }
  });

  test("names props that no figure holds as its own", async () => {
    const version = await judged(
      bipedDocument(
        { "crate translation.x": everyFrame(1, 24, (frame) => frame / 10) },
        {
          range: [1, 24],
          more: {
            nodes: [...bipedNodes, { id: "crate", translation: [1, 0.2, 0] }],
            props: [{ node: "crate" }],
          },
        },
      ),
    );
    const { motion } = moving(version);
    const { at, count } = await posesOf(motion);
    expect(motion.things.map(({ id }) => id)).toEqual(["crate"]);
    expect(at[3 * motion.things[0].point * count + 23]).toBeCloseTo(2.4, 3);
  });

  test("has shapes as points that move, hidden ones by their frames, and surfaces by their edges", async () => {
    const version = await judged(
      bipedDocument(
        { "crate rotation.y": everyFrame(1, 24, (frame) => 3 * frame) },
        {
          range: [1, 24],
          more: {
            nodes: [
              ...bipedNodes,
              {
                id: "crate",
                translation: [1, 0.2, 0],
                visible: [
                  [1, 4],
                  [9, 24],
                ],
                shapes: [
                  { kind: "box", size: [0.4, 0.2, 0.3] },
                  { kind: "sphere", radius: 0.05, centre: [0, 0.15, 0] },
                ],
              },
            ],
            surfaces: [
              {
                id: "table",
                height: 0.7,
                edges: [
                  [-1, -1],
                  [1, 1],
                ],
              },
            ],
          },
        },
      ),
    );
    const { motion } = moving(version);
    const { at, count } = await posesOf(motion);
    const placeOf = (point: number, sample: number) =>
      [0, 1, 2].map((axis) => at[(3 * point + axis) * count + sample]);
    const [{ shapes, seen }] = motion.things;
    expect(seen).toEqual([
      [0, 3],
      [8, 23],
    ]);
    expect(shapes?.map(({ points, radius }) => [points.length, radius])).toEqual([
      [4, 0],
      [1, 0.05],
    ]);
    // One corner and the three beside it, at any turn of the box.
    for (const sample of [0, 13]) {
      const [corner, ...others] = (shapes?.[0].points ?? []).map((point) => placeOf(point, sample));
      const sizes = others.map((other) => Math.hypot(...other.map((x, k) => x - corner[k])));
      expect(sizes).toEqual([0.4, 0.2, 0.3].map((size) => expect.closeTo(size, 2)));
    }
    expect(motion.edges?.map(({ id, points }) => [id, points.length])).toEqual([["table", 4]]);
    expect(placeOf(motion.edges?.[0].points[0] ?? 0, 5)[1]).toBeCloseTo(0.7, 3);
  });

  test("has the camera of each frame, as it is zoomed there", async () => {
    const camera = (more: object) =>
      judged(
        wavingDocument(
          {},
          {
            ...withCamera,
            nodes: [...(withCamera.nodes ?? []), { id: "cam2", translation: [2, 1, 2] }],
            cameras: [
              {
                id: "zooming",
                node: "cam",
                frames: [5, 24],
                verticalFieldOfView: 40,
                zoom: {
                  interpolation: "linear",
                  keys: [
                    [1, 40],
                    [20, 40],
                    [24, 36],
                  ],
                },
                ...more,
              },
              { id: "flat", node: "cam2", frames: [25, 48], verticalExtent: 2.5, aspect: 1.5 },
            ],
          },
        ),
      );
    const { motion } = moving(await camera({}));
    expect(motion.camera?.lenses).toEqual([
      { from: 0, fieldOfView: 0, aspect: 1 },
      { from: 4, fieldOfView: 40, aspect: 16 / 9 },
      ...[39, 38, 37, 36].map((fieldOfView, n) => ({ from: 20 + n, fieldOfView, aspect: 16 / 9 })),
      { from: 24, fieldOfView: 0, extent: 2.5, aspect: 1.5 },
    ]);
    const { at, count } = await posesOf(motion);
    const x = (sample: number) => at[3 * (motion.camera?.at ?? 0) * count + sample];
    expect([x(0), x(23), x(24)]).toEqual([0, 0, 2].map((place) => expect.closeTo(place, 3)));
  });

  test("takes little room: 240 frames of two figures with 60 joints each", async () => {
    const nodes = bipedNodes.map(({ id }) => id);
    const twice = (suffix: string, aside: number) =>
      bipedNodes.map((node) => ({
        ...node,
        id: node.id + suffix,
        ...(node.parent === undefined
          ? { translation: [aside, 1, 0] as [number, number, number] }
          : { parent: node.parent + suffix }),
      }));
    const curves: Record<string, ReturnType<typeof everyFrame>> = {};
    for (const suffix of ["_a", "_b"]) {
      nodes.forEach((id, n) => {
        for (const [k, axis] of ["x", "y", "z"].entries()) {
          // Nothing repeats: each curve has a time of its own, and trembles.
          const value = (frame: number) =>
            20 * Math.sin(frame / (5 + n + k)) +
            3 * Math.sin(frame * (1.1 + 0.13 * n)) +
            Math.sin(frame * frame);
          curves[`${id}${suffix} rotation.${axis}`] = everyFrame(1, 240, value);
        }
      });
    }
    const version = await judged(
      bipedDocument(curves, { range: [1, 240], more: { nodes: [...twice("_a", 0), ...twice("_b", 2)] } }),
    );
    const motion = motionOf(version, [], () => null);
    expect(motion.count).toBe(240);
    const joints = motion.points;
    expect(joints).toBeGreaterThan(30);
    // As large as it would be with 60 joints a figure.
    expect((asData(motion).length / joints) * 120).toBeLessThan(400_000);
  });

  test("cannot end the element that holds it", () => {
    expect(asData({ name: "</script><script>alert(1)" })).not.toContain("<");
    expect(playerScript()).not.toMatch(/<\/script|<!--/i);
  });

  test("is on the page, with the player, where something moves", async () => {
    const page = sheetPage(
      makeSheet(await judged(wavingDocument()), { previous: null, fixes: false, lightest: "polish" }),
    );
    expect(page).toContain('<keyside-player for="motion">');
    expect(page).toContain(playerScript());
  });
});
