import { describe, expect, test } from "vitest";
import {
  chainDocument,
  eased,
  type Keyed,
  notesOfCheck,
  pathDocument,
  pointDocument,
  stepping,
} from "../../../support/shots.ts";

const stops = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "hard-stop");

describe("hard-stop", () => {
  test("finds one that ends at seven tenths of its speed, and not one that is soft from there", () => {
    // Steps in centimetres a frame: a fast part, before it a slower one, and rest within a frame, or over six.
    const fast = [0.2, 1, 2.4, 3.8, 4.8, 5, 5, 4.9, 4.7, 4.3, 3.9, 3.6, 3.5, 3.5];
    const along = (steps: readonly number[]) => {
      const gone = stepping(8, steps);
      return pathDocument(1, steps.length + 24, (frame) => [gone(frame) / 100, 0, 0]);
    };
    expect(stops(along(fast))).toHaveLength(1);
    expect(stops(along([...fast, 3, 2.3, 1.5, 0.8, 0.3, 0.1]))).toEqual([]);
  });

  test("what goes on slowly for long after a flicker has not come to rest there", () => {
    // 8 cm out and back within two frames, then on at 6 mm a frame for 5 s, which is under a tenth of the flicker's speed.
    const drift = (frame: number) => 0.006 * Math.max(0, Math.min(frame, 132) - 12);
    const flicker = pathDocument(1, 150, (frame) => [drift(frame), frame === 12 ? 0.08 : 0, 0]);
    expect(stops(flicker)).toEqual([]);
    expect(notesOfCheck(flicker, "pop")).toHaveLength(1);
  });

  test("tells how long an eased stop takes: a minimum-jerk move of 24 frames needs 0.251 of them", () => {
    // The first half of a minimum-jerk move (Flash & Hogan 1985) over 24 frames, and nothing after it: the whole move
    // would have taken 24 · 0.251 = 6.0 frames for its stop, and half a step less where the middle step counts once.
    const half = eased(10, 34, 0, 1);
    const notes = stops(pathDocument(1, 60, (frame) => [half(Math.min(frame, 22)), 0, 0]));
    expect(notes).toHaveLength(1);
    expect(notes[0].message).toMatch(/an eased stop from there takes (5|6) frames/);
  });

  test("names the joint that stops and not the tip that follows it", () => {
    const document = chainDocument(3, {
      "joint_1 rotation.z": [
        [1, 0],
        [12, 0],
        [24, 70],
        [48, 70],
      ],
    });
    const notes = stops(document);
    expect(notes).toHaveLength(1);
    expect(notes[0].node).toBe("joint_1");
    expect(notes[0].keys[0]).toMatchObject({ node: "joint_1", channel: "rotation.z", frame: 24 });
    expect(notes[0].seenAt).toContain("tip");
  });

  test.each([24, 25, "24000/1001", 60])("finds the same stop at %s frames per second", (rate) => {
    const perSecond = rate === 60 ? 60 : 24;
    const at = (seconds: number) => Math.round(seconds * perSecond);
    const keys: Keyed = [
      [0, 0],
      [at(0.5), 0],
      [at(1.5), 1],
      [at(2.5), 1],
    ];
    const notes = stops(pointDocument({ "translation.x": keys }, { rate }));
    expect(notes.map(({ frames }) => frames[1])).toEqual([at(1.5)]);
    const soft = eased(at(0.5), at(1.5), 0, 1);
    expect(stops(pathDocument(0, at(2.5), (frame) => [soft(frame), 0, 0], { rate }))).toEqual([]);
  });
});
