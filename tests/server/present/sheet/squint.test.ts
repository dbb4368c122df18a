import { readFileSync } from "node:fs";
import { defaultSettings, readShot, registry, studyOf as studyOfShot } from "@keyside/core";
import { describe, expect, test } from "vitest";
import { examples } from "../../../../packages/core/faults/examples.ts";
import { squintPicture } from "../../../../packages/server/present/sheet/draw/squint-picture.ts";
import { documentOf, everyFrame, studyOf } from "../../../support/shots.ts";
import { unbalanced } from "./shots.ts";

const shots = new URL("../../../../demo/shots/", import.meta.url);
const size = { width: 420, height: 146 };
const noted = { from: 20, to: 59 };
describe("the squint view", () => {
  const { faulty, silent } = examples["merged-silhouette"];
  const wrong = studyOf(faulty[0].motion());
  const right = studyOf((faulty[0].right ?? faulty[0].motion)());

  test("shows the figure flat through the camera, before the fix and after it, where the hand stands out", () => {
    const svg = squintPicture({ study: wrong, fixed: right, noted, size });
    expect(unbalanced(svg)).toBeNull();
    expect(svg).toContain("at frame 41 and 41, after the fix");
    const [before, after] = svg.split("<text").map((cell) => [...cell.matchAll(/class="squint"/g)].length);
    expect(before).toBeGreaterThan(20);
    expect(after).toBe(before);
    const farthest = (cell: string) =>
      Math.max(
        ...[...cell.matchAll(/class="squint"[^>]* d="M(-?[\d.]+) [-\d.]+L(-?[\d.]+)/g)].flatMap(
          ([, a, b]) => [Number(a), Number(b)],
        ),
      );
    const cells = svg.split("<text");
    expect(farthest(cells[1])).toBeGreaterThan(farthest(cells[0]) + 20);
  });

  test("shows two of the noted frames where there is no fix, and nothing without a camera", () => {
    expect(squintPicture({ study: wrong, fixed: null, noted, size })).toContain("at frame 21 and 41");
    const none = studyOf(silent[0].motion());
    expect(squintPicture({ study: none, fixed: null, noted, size })).toBe("");
  });

  test("shows what is behind a figure pale, and colours where the note speaks of them, before and after a change", async () => {
    const { shot } = readShot(readFileSync(new URL("gate_0050_v1.curves.json", shots), "utf8"));
    if (shot === null) throw new Error("not a shot");
    const study = studyOfShot(shot, defaultSettings(registry));
    const input = { study, fixed: null, noted: { from: 65, to: 119 }, size };
    const dark = squintPicture(input);
    // The wall and the lamp, in each of the two cells; the bell stands before the keeper.
    expect(dark.match(/"squint-box behind"/g)).toHaveLength(4);
    expect(dark).not.toContain('"squint behind"');
    expect(dark).not.toContain("style=");
    const coloured = squintPicture({ ...input, inColours: true });
    expect(coloured).toContain("at frame 66 and 68");
    expect(coloured.match(/fill:#f6ebb0/g)).toHaveLength(1);
    expect(coloured.match(/fill:#4a4f45/g)).toHaveLength(1);
    expect(unbalanced(coloured)).toBeNull();
  });

  test("shows boxes by their outline and surfaces by their edge, and leaves out what is hidden", () => {
    const crate = (visible: [number, number][]) =>
      studyOf(
        documentOf(
          [
            { id: "crate", translation: [0, 0, -4], visible, shapes: [{ kind: "box", size: [1, 0.5, 0.5] }] },
            { id: "eye" },
          ],
          { "crate translation.x": everyFrame(1, 60, () => 0) },
          {
            more: {
              cameras: [{ id: "shotcam", node: "eye", verticalFieldOfView: 40 }],
              surfaces: [
                {
                  id: "table",
                  height: -0.25,
                  edges: [
                    [-1, -5],
                    [1, -3],
                  ],
                },
              ],
            },
          },
        ),
      );
    const seen = squintPicture({ study: crate([[1, 60]]), fixed: null, noted, size });
    expect(seen.match(/squint-box/g)).toHaveLength(2);
    expect(seen.match(/squint-edge/g)).toHaveLength(2);
    expect(squintPicture({ study: crate([]), fixed: null, noted, size })).not.toContain("squint-box");
  });
});
