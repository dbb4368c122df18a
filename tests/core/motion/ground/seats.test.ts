import { expect, test } from "vitest";
import { type Chair, chairDocument } from "../../../../packages/core/faults/shared/examples/chairs.ts";
import { groundDemandOf } from "../../../../packages/core/motion/body/ground-demand.ts";
import { seatsOf } from "../../../../packages/core/motion/ground/seats.ts";
import { bodySupportAt } from "../../../../packages/core/motion/ground/support.ts";
import { studyOf } from "../../../support/shots.ts";

const chair: Chair = { seat: 0.56, rises: "over the feet", as: "prop" };

/** Samples of someone who sits on something, first and last; frame 1 is sample 0. */
const sitsOn = (document: Parameters<typeof studyOf>[0]) => {
  const seats = seatsOf(studyOf(document), 0).filter(({ isChair }) => isChair);
  return seats.map(({ from, to }) => [from, to]);
};

test("someone sits on a prop's box, and on a surface with edges, for as long as the hips are down on it", () => {
  // On frame 33 the hips are still 3 cm over where they sit, on frame 111 they are 2 cm over it again.
  for (const as of ["prop", "surface"] as const) {
    const [[from, to], ...more] = sitsOn(chairDocument({ ...chair, as }));
    expect(more).toEqual([]);
    expect(from).toBeGreaterThanOrEqual(28);
    expect(from).toBeLessThanOrEqual(36);
    expect(to).toBeGreaterThanOrEqual(108);
    expect(to).toBeLessThanOrEqual(114);
  }
});

test("nobody sits on what is not there, beside the body, far under it, or held by its own hand", () => {
  expect(sitsOn(chairDocument({ ...chair, as: "nothing" }))).toEqual([]);
  const document = chairDocument(chair);
  const moved = (by: readonly [number, number, number]) => ({
    ...document,
    nodes: document.nodes.map((node) =>
      node.id === "chair"
        ? { ...node, translation: node.translation?.map((at, k) => at + by[k]) as [number, number, number] }
        : node,
    ),
  });
  expect(sitsOn(moved([0.6, 0, 0]))).toEqual([]);
  expect(sitsOn(moved([0, -0.1, 0]))).toEqual([]);
  const held = { node: "hand_l", frames: [1, 160] as [number, number] };
  expect(sitsOn({ ...document, props: [{ node: "chair", heldBy: [held] }] })).toEqual([]);
});

test("a seat supports the body when its feet are up, and a known chair excuses no low hips behind it", () => {
  const study = studyOf(chairDocument(chair));
  const [{ from, to }] = seatsOf(study, 0).filter(({ isChair }) => isChair);
  expect(bodySupportAt(study, 0).subarray(from, to + 1)).not.toContain(0);
  const low = studyOf(chairDocument({ seat: 0.36, rises: "behind the feet", as: "prop" }));
  const last = Math.max(...seatsOf(low, 0).map((seat) => seat.to));
  const { seated } = groundDemandOf(low, 0);
  expect(seated[last]).toBe(1);
  expect(seated[last + 1]).toBe(0);
  const guessed = studyOf(chairDocument({ seat: 0.36, rises: "behind the feet", as: "nothing" }));
  expect(groundDemandOf(guessed, 0).seated[last]).toBe(1);
});
