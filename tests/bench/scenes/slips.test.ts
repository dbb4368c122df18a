import { expect, test } from "vitest";

// The bench is plain JavaScript that carries its types in comments.
const moduleOf = (name: string) => import(/* @vite-ignore */ new URL(name, import.meta.url).href);
const { leap, leaveOut, pop, raise, retime, scale, stopDead } = await moduleOf("./slips.mjs");
const { valueAt } = await moduleOf("./people/kit/curve.mjs");

const arm = () => ({
  curves: [
    {
      node: "arm",
      channel: "rotation.x",
      interpolation: "bezier",
      keys: [
        [1, 0, { out: [5, 0] }],
        [21, 40, { in: [-7, 0], out: [7, 0] }],
        [41, 10, { in: [-7, 0] }],
      ],
    },
  ],
});
const samples = (doc: ReturnType<typeof arm>) =>
  Array.from({ length: 41 }, (_, i) => valueAt(doc.curves[0].keys, "bezier", i + 1) as number);
const was = samples(arm());
const changed = (doc: ReturnType<typeof arm>) =>
  samples(doc).flatMap((v, i) => (Math.abs(v - was[i]) > 1 ? [i + 1] : []));

test("a pop is one frame, and leaves the rest", () => {
  const doc = arm();
  pop(doc, "arm", "rotation.x", 12, 15);
  expect(changed(doc)).toEqual([12]);
  expect(samples(doc)[11]).toBeCloseTo(was[11] + 15, 0);
});

test("a dead stop runs straight into a hold", () => {
  const doc = arm();
  stopDead(doc, ["arm"], "rotation", 5, 12, 21);
  const now = samples(doc);
  expect(now[8] - now[7]).toBeCloseTo(now[7] - now[6], 3);
  expect(now.slice(11, 21).every((v) => Math.abs(v - 40) < 0.01)).toBe(true);
});

test("a leap covers its share of the time in one frame", () => {
  const doc = arm();
  const when = leap(1, 21, 11, 0.5);
  expect(when(11) - when(10)).toBeCloseTo(10, 6);
  expect([when(1), when(21)]).toEqual([1, 21]);
  retime(doc, ["arm"], "rotation", 1, 21, when);
  const now = samples(doc);
  expect(now[10] - now[9]).toBeGreaterThan(15);
  expect(now[20]).toBeCloseTo(40, 3);
});

test("keys of a stretch are raised, scaled and left out", () => {
  const doc = arm();
  raise(doc, ["arm"], "rotation", 20, 22, 3);
  expect(doc.curves[0].keys.map((k) => k[1])).toEqual([0, 43, 10]);
  scale(doc, ["arm"], "rotation", 1, 41, 2);
  expect(doc.curves[0].keys.map((k) => k[1])).toEqual([0, 86, 20]);
  leaveOut(doc, ["arm"], "rotation");
  expect(doc.curves).toEqual([]);
});
