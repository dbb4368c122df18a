import { beforeEach, describe, expect, test } from "vitest";
import { FramesView } from "../../packages/desk/curves/frames-view.ts";
import { hitAt } from "../../packages/desk/curves/hit.ts";
import { Lanes, laneValue, laneY } from "../../packages/desk/curves/lanes.ts";
import { nearestKey, Picked } from "../../packages/desk/curves/picked.ts";
import { curveOf } from "./curves-of.ts";

const curve = curveOf(
  [
    [1, 0],
    [10, 30, { out: [3, 0] }],
    [20, -10],
  ],
  "bezier",
);
const low = curveOf([[10, 0.5]], "linear", "translation.y");
const lanes = new Lanes();
const view = new FramesView(1, 21);
const picked = new Picked();
beforeEach(() => {
  view.resize(628);
  lanes.show([
    { name: "a", node: "arm", channel: "rotation.x", title: "a", unit: "°", curve },
    { name: "b", node: "arm", channel: "translation.y", title: "b", unit: "cm", curve: low },
  ]);
  lanes.arrange(400);
  lanes.update(view);
  picked.set([]);
});

describe("what lies under the hand", () => {
  test("a key, within reach; else its lane", () => {
    const [a] = lanes.all;
    const [x, y] = [view.xOf(10), laneY(a, 30)];
    expect(hitAt(lanes, view, picked, x + 4, y - 4, 9)).toEqual({ lane: a, key: 1, part: "key" });
    expect(hitAt(lanes, view, picked, x + 12, y, 9)).toEqual({ lane: a, key: -1, part: "lane" });
    expect(hitAt(lanes, view, picked, x + 12, y, 22)).toMatchObject({ key: 1 });
    expect(hitAt(lanes, view, picked, 300, 390, 9)).toMatchObject({ lane: lanes.all[1], key: -1 });
  });

  test("handles only of keys that are chosen", () => {
    const [a] = lanes.all;
    const [x, y] = [view.xOf(13), laneY(a, 30)];
    expect(hitAt(lanes, view, picked, x, y, 9)).toMatchObject({ part: "lane" });
    picked.set([{ name: "a", frame: 10 }]);
    expect(hitAt(lanes, view, picked, x, y, 9)).toEqual({ lane: a, key: 1, part: "out" });
  });
});

describe("lanes", () => {
  test("share the height, and take more where they would be too low", () => {
    expect(lanes.all.map(({ height }) => height)).toEqual([180, 180]);
    lanes.arrange(100);
    expect(lanes.height).toBe(184);
    const [a] = lanes.all;
    expect(laneValue(a, laneY(a, 12))).toBeCloseTo(12);
    expect(a.marks.length).toBeGreaterThan(0);
    expect(a.marks.every(({ value }) => value >= a.scale.low && value <= a.scale.high)).toBe(true);
  });

  test("are worked out only where they are seen", () => {
    lanes.show([
      ...lanes.all.map(({ name, node, channel, title, unit, curve }) => {
        return { name, node, channel, title, unit, curve };
      }),
      { name: "c", node: "arm", channel: "rotation.x", title: "c", unit: "°", curve },
    ]);
    lanes.arrange(200);
    const c = lanes.find("c");
    lanes.update(view, 0, 150);
    expect([c?.trace.count, c?.isFitted]).toEqual([0, false]);
    lanes.update(view, 150, 300);
    expect(c?.isFitted).toBe(true);
  });

  test("keep their scale while a key is dragged, until they are fitted", () => {
    const [a] = lanes.all;
    const before = { ...a.scale };
    a.curve = curveOf(
      [
        [1, 0],
        [10, 300],
      ],
      "bezier",
    );
    lanes.update(view);
    expect(a.scale).toEqual(before);
    lanes.fit();
    lanes.update(view);
    expect(a.scale.high).toBeGreaterThan(300);
  });
});

test("the nearest key", () => {
  expect([-5, 5, 6, 15.5, 99].map((frame) => nearestKey(curve, frame))).toEqual([0, 0, 1, 2, 2]);
});

test("keys are chosen and taken back; the last one leads", () => {
  picked.set([{ name: "a", frame: 1 }]);
  picked.toggle({ name: "a", frame: 10 });
  expect(picked.lead).toEqual({ name: "a", frame: 10 });
  picked.toggle({ name: "a", frame: 10 + 1e-9 });
  expect(picked.all).toEqual([{ name: "a", frame: 1 }]);
  picked.keep(({ frame }) => frame > 1);
  expect(picked.lead).toBeNull();
});
