import { describe, expect, it } from "vitest";
import { pictureShareOf } from "../../../packages/core/rig/picture-share.ts";
import { bipedLines, nodesFrom, studyOf } from "./body-study.ts";

const metres = { metresPerUnit: 1, up: "y", angle: "degrees" } as const;
const shareOf = (lines: string, space: object = metres) =>
  pictureShareOf(studyOf(nodesFrom(lines), { space: { ...metres, ...space } }), 0);

/** A body 0.5 m high, with something that reaches to either side, or behind. */
const body = (x: number, z: number) => `body @ 0 0.1 0
  neck < body @ 0 0.4 0
  left_link < body @ ${x} 0 ${z}
  right_link < body @ ${-x} 0 ${-z}`;

describe("share of a picture", () => {
  it("is whole for a person, who stands in it from edge to edge", () => {
    expect(shareOf(bipedLines)).toBe(1);
  });

  it("is that of the width for a body that is broader than a picture", () => {
    // Two metres of wings fill a picture that is 2 · 9 / 16 high; 0.5 m of height do not.
    expect(shareOf(body(1, 0))).toBeCloseTo(9 / 16, 9);
    expect(shareOf(body(0, 1))).toBeCloseTo(9 / 16, 9);
  });

  it("is that of the height for one that is only a little broader than high", () => {
    // 0.6 m broad, 0.4 m from the lowest node to the highest.
    expect(shareOf(body(0.3, 0))).toBeCloseTo(0.4 / 0.6, 9);
  });
});
