import { notesOf } from "@keyside/core";
import { describe, expect, test } from "vitest";
import {
  along,
  bipedDocument,
  documentOf,
  eased,
} from "../../../../packages/core/faults/shared/examples/motions.ts";
import { studyOf } from "../../../support/shots.ts";

/** A thigh counts as half of 4.3 % of 1.7 m, where nobody says how thick it is. */
const half = (0.043 * 1.7) / 2;
const ball = 0.13;

/** A ball that comes to a standing body's left thigh, as deep as that; its other side stays free. */
function ballInThigh(depth: number) {
  const standing = bipedDocument({}, { range: [1, 48] });
  const end = ball + half - depth;
  const way = documentOf(
    [],
    along("ball", 1, 48, (frame) => [0.1, 0.7, eased(8, 28, 0.6, end)(frame)]),
  );
  const node = { id: "ball", shapes: [{ kind: "sphere" as const, radius: ball }] };
  return { ...standing, nodes: [...standing.nodes, node], curves: way.curves };
}

const tiers = (depth: number) =>
  notesOf(studyOf(ballInThigh(depth)))
    .filter(({ check }) => check === "through-prop")
    .map(({ tier }) => tier);

describe("how sure a passage through a body without shapes is", () => {
  test("what leaves its bone outside, or no deeper inside than its flesh is thick, is minor", () => {
    expect(tiers(0.05)).toEqual(["minor"]);
    // The flesh is 7.3 cm thick: the bone is 5.6 cm inside.
    expect(tiers(half + 0.056)).toEqual(["minor"]);
  });

  test("a bone that is deeper inside than its flesh is thick is major", () => {
    expect(tiers(half + 0.08)).toEqual(["major"]);
  });
});
