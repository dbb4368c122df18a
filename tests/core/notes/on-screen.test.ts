import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { eachAlone } from "../../../packages/core/notes/assemble.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { bipedDocument, everyFrame, studyOf } from "../../support/shots.ts";

type Cameras = NonNullable<CurveDocument["cameras"]>;

/** A figure whose left hand jerks by 10 cm for a frame, and whose arm turns the long way round between two keys. */
const jerk = (
  cameras: Cameras,
  more: Partial<CurveDocument> = {},
  eye: [number, number, number] = [0, 1, 6],
) => {
  const document = bipedDocument(
    {
      "forearm_l rotation.z": everyFrame(1, 60, (frame) => (frame === 30 ? 24 : 0)),
      "forearm_r rotation.x": [
        [1, 0],
        [20, 0],
        [40, 360],
        [60, 360],
      ],
    },
    {
      range: [1, 60],
      more: { surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }], cameras, ...more },
    },
  );
  document.nodes.push({ id: "eye", translation: eye });
  return document;
};
const lens = (verticalFieldOfView: number, more: Partial<Cameras[number]> = {}): Cameras => [
  { id: "shotcam", node: "eye", verticalFieldOfView, ...more },
];
const said = (document: CurveDocument, check = "pop") =>
  eachAlone(notesOf(studyOf(document))).find((note) => note.check === check);

describe("with a camera", () => {
  test("size is in picture heights: the same fault weighs less the smaller it is in the picture", () => {
    const [close, wide, wider] = [20, 60, 150].map((angle) => said(jerk(lens(angle)))!);
    const plain = said(jerk([]))!;
    expect(plain.rank).toMatchObject({ of: "body", size: plain.rank!.metres / 1.7 });
    for (const [note, angle] of [
      [close, 20],
      [wide, 60],
      [wider, 150],
    ] as const) {
      // At 6 m the picture is twice the tangent of half the angle times as high.
      const height = 12 * Math.tan((angle * Math.PI) / 360);
      expect(note.rank!.of).toBe("picture");
      expect(note.rank!.size).toBeCloseTo(note.rank!.metres / height, 9);
    }
    expect(close.weight).toBeGreaterThan(wide.weight);
    expect(wide.weight).toBeGreaterThan(wider.weight);
    expect(close.rank!.plainness).toBeGreaterThan(wider.rank!.plainness);
  });

  test("what moves out of the picture is polish at most; what is wrong in curves stays as it is", () => {
    expect(said(jerk([]))!.tier).not.toBe("polish");
    // It looks over the head, and away.
    for (const eye of [
      [0, 4, 6],
      [0, 1, -3],
    ] as const) {
      const document = jerk(lens(20), {}, [...eye]);
      expect(said(document)!).toMatchObject({ tier: "polish", rank: { of: "picture", size: 0 } });
      const [flip, plain] = [document, jerk([], {}, [...eye])].map((one) => said(one, "rotation-flip")!);
      expect(flip).toMatchObject({ tier: plain.tier, weight: plain.weight, rank: plain.rank });
    }
  });

  test("what hangs below a part that is out of the picture shows its fault", () => {
    const close = jerk(lens(12), {}, [0.95, 1.42, 2]);
    expect(said(close)!.tier).not.toBe("polish");
  });

  test("frames without a camera are judged by the body", () => {
    const before = jerk(lens(20, { frames: [1, 12] }), {}, [0, 4, 6]);
    expect(said(before)!.rank!.of).toBe("body");
    expect(said(before)!.tier).toBe(said(jerk([]))!.tier);
  });

  test("a part that is hidden while it fails is not seen", () => {
    const document = jerk(lens(20));
    const at = document.nodes.findIndex(({ id }) => id === "hips");
    document.nodes[at] = { ...document.nodes[at], visible: [[40, 60]] };
    expect(said(document)!.tier).toBe("polish");
  });
});
