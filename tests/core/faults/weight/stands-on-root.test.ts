import { describe, expect, test } from "vitest";
import type { CheckName } from "../../../../packages/core/faults/names.ts";
import { documentOf, everyFrame } from "../../../../packages/core/faults/shared/examples/motions.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const g = 9.80665;
/** Frames of the take-off and of the landing, the rod's length, and how far the body is down when it stands; metres. */
const [off, on, rod, stands] = [20, 30, 0.44, 0.05];
const speed = (g * (on - off)) / 24 / 2 / 24;

/** How far the body is down on its leg: it crouches, is stretched as it leaves, and gives after it has landed. */
function down(frame: number, give: number): number {
  if (frame <= off) {
    const left = Math.min(1, Math.max(0, (off - frame) / 8));
    return stands + 4 * speed * left * (1 - left) ** 2 * 2 * (frame < off - 8 ? 0 : 1);
  }
  if (frame <= on) return stands + tucked(frame);
  const time = Math.min(1, (frame - on) / 12);
  return stands + give * 6.75 * time * (1 - time) ** 2;
}

/** How far the foot is pulled up in the air, at an even pace up and down. */
function tucked(frame: number): number {
  return frame < off || frame > on ? 0 : 0.2 * (1 - Math.abs((2 * (frame - off)) / (on - off) - 1));
}

/** A lamp that hops on its foot, which is its root: a disc with two rods and a head on it. */
function lamp(give: number) {
  const lift = (frame: number) => {
    const time = Math.min(on - off, Math.max(0, frame - off)) / 24;
    return (g / 2) * time * ((on - off) / 24 - time);
  };
  const bend = (frame: number) => (Math.acos((2 * rod - down(frame, give)) / (2 * rod)) * 180) / Math.PI;
  return documentOf(
    [
      { id: "disc", translation: [0, 0.03, 0] },
      { id: "rod", parent: "disc", translation: [0, 0.03, 0] },
      { id: "strut", parent: "rod", translation: [0, rod, 0] },
      { id: "cage", parent: "strut", translation: [0, rod, 0] },
      { id: "cap", parent: "cage", translation: [0, 0.26, 0] },
    ],
    {
      "disc translation.y": everyFrame(1, 60, (frame) => 0.03 + lift(frame) + tucked(frame)),
      "disc translation.z": everyFrame(1, 60, (frame) => 0.06 * Math.min(on - off, Math.max(0, frame - off))),
      "rod rotation.x": everyFrame(1, 60, bend),
      "strut rotation.x": everyFrame(1, 60, (frame) => -2 * bend(frame)),
      "cage rotation.x": everyFrame(1, 60, bend),
    },
    {
      range: [1, 60],
      more: {
        surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }],
        figures: [
          {
            id: "lamp",
            stature: 1.2,
            parts: { root: "disc", head: "cage" },
            limbs: [{ id: "pole", kind: "leg", nodes: ["strut", "rod", "disc"] }],
          },
        ],
      },
    },
  );
}

describe("a body that stands on its root", () => {
  const said = (name: CheckName, give: number) => notesOfCheck(lamp(give), name);

  test("gives where its mass sinks on, and not where its foot stands", () => {
    expect(said("no-settle", 0.2)).toEqual([]);
    expect(said("no-settle", 0)).toHaveLength(1);
  });

  test("lets its foot go at once, as the body takes it along", () => {
    expect(said("hard-start", 0.2)).toEqual([]);
  });

  test("pulls its foot up in the air as it likes", () => {
    expect(said("quick-top", 0.2)).toEqual([]);
  });
});
