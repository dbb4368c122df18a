import { notesOf } from "@keyside/core";
import { describe, expect, test } from "vitest";
import { holdingDocument } from "../../../../packages/core/faults/props/shared/held-motions.ts";
import { along, documentOf, everyFrame } from "../../../../packages/core/faults/shared/examples/motions.ts";
import { studyOf } from "../../../support/shots.ts";

/** A thing that is set down dead has no check of its own: hard-stop tells it, of things as of joints. */

/** A way down from one to 0 that gathers speed from frame 10 on, and stops dead at frame 30, or eases into its place. */
const down = (isDead: boolean) => (frame: number) => {
  const t = Math.min(1, Math.max(0, (frame - 10) / 20));
  return isDead ? 1 - t ** 2 : 1 - t ** 3 * (10 - 15 * t + 6 * t ** 2);
};

const crate = (isDead: boolean) =>
  documentOf(
    [{ id: "crate", shapes: [{ kind: "box", size: [0.3, 0.3, 0.3] }] }],
    along("crate", 1, 60, (frame) => [0, 0.15 + 0.7 * down(isDead)(frame), 0]),
    { range: [1, 60], more: { props: [{ node: "crate", mass: 8 }] } },
  );

/** The left arm comes down with a cup in its hand. */
const inHand = (isDead: boolean) =>
  holdingDocument(
    { "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -70 + 70 * down(isDead)(frame)) },
    [1, 60],
    { node: "cup", path: (frame, hand) => hand.point(frame, [0.08, -0.04, 0]) },
  );

const told = (document: ReturnType<typeof crate>) =>
  notesOf(studyOf(document))
    .filter(({ tier }) => tier !== "polish")
    .map(({ check, node }) => `${check} ${node}`);

describe("a set-down that ends dead", () => {
  test("is told at the thing, as a stop that is too hard for its speed", () => {
    expect(told(crate(true))).toEqual(["hard-stop crate"]);
    expect(told(crate(false))).toEqual([]);
  });

  test("is told once where hand and thing stop together", () => {
    const stops = (isDead: boolean) => told(inHand(isDead)).filter((note) => note.startsWith("hard-stop"));
    expect(stops(true)).toEqual(["hard-stop cup"]);
    expect(stops(false)).toEqual([]);
  });
});
