import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { marginTo, supportPolygonOf } from "../../../../packages/core/motion/body/balance.ts";
import { motionDocument, standing } from "../../../support/bodies.ts";
import { studyOf } from "../../../support/shots.ts";

/** Someone who stands still, turned about the upright by nothing: the toes point along z. */
const stand = () =>
  motionDocument({
    first: 1,
    last: 12,
    hips: () => [0, 0.86, 0],
    left: () => standing("left"),
    right: () => standing("right"),
  });

/** The same on a rig whose feet end at the ankle. */
function withoutToes(document: CurveDocument): CurveDocument {
  const isToes = (id: string) => id.startsWith("toes_");
  return {
    ...document,
    nodes: document.nodes.filter(({ id }) => !isToes(id)),
    curves: document.curves.filter(({ node }) => !isToes(node)),
    figures: document.figures?.map((figure) => ({
      ...figure,
      parts: Object.fromEntries(
        Object.entries(figure.parts ?? {}).filter(([part]) => !part.endsWith("Toes")),
      ),
    })),
  };
}

const stature = 1.7;
/** Published shares of the stature (Drillis and Contini 1966, after Winter, figure 4.1): 0.152 long, 0.055 broad. */
const [long, broad] = [0.152 * stature, 0.055 * stature];

describe("soles", () => {
  test("a foot that is known by its ankle alone points as the hips face, and is as long as published", () => {
    const hull = supportPolygonOf(studyOf(withoutToes(stand())), 0, 5);
    const [x, z] = [0, 1].map((axis) => hull.map((corner) => corner[axis]));
    expect(Math.max(...z)).toBeCloseTo(0.75 * long, 3);
    expect(Math.min(...z)).toBeCloseTo(-0.25 * long, 3);
    // The feet stand 0.1 m to either side.
    expect(Math.max(...x)).toBeCloseTo(0.1 + broad / 2, 3);
    expect(Math.min(...x)).toBeCloseTo(-0.1 - broad / 2, 3);
  });

  test("a foot with toes reaches at least as far, and is as broad", () => {
    const hull = supportPolygonOf(studyOf(stand()), 0, 5);
    expect(marginTo(hull, [0, 0.75 * long - 1e-6])).toBeGreaterThanOrEqual(0);
    expect(Math.max(...hull.map(([x]) => x))).toBeCloseTo(0.1 + broad / 2, 3);
  });
});
