import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { birdDocument } from "../../../../packages/core/faults/shared/examples/birds.ts";
import { braking, flight, hover } from "../../../../packages/core/faults/weight/beat-mismatch/examples.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "beat-mismatch");

describe("beat-mismatch", () => {
  test("wings that are not declared are known by their place", () => {
    expect(notes(hover({}, { more: { propulsors: [] } }))).toEqual([]);
    expect(notes(hover({ wider: 1.6 }, { more: { propulsors: [] } }))).toHaveLength(1);
  });

  test("says what to do with a beat that is too weak, and with one that is too strong", () => {
    expect(notes(flight({ share: 0.5 }))[0].suggestion).toContain("beat 2 times as fast or as wide");
    expect(notes(hover({ wider: 1.6 }))[0].suggestion).toContain("beat 1.6 times slower or narrower");
  });

  test("a climb that comes to rest is found where it speeds up and where it slows down", () => {
    const found = notes(hover({ climb: 14, stretch: [33, 65] }));
    expect(found).toHaveLength(2);
    for (const { frames, message } of found) {
      expect(frames[1]).toBeGreaterThanOrEqual(33);
      expect(frames[0]).toBeLessThanOrEqual(65);
      expect(message).toContain("body needs a lift of");
    }
  });

  test("a wing that strikes down faster than it comes up is not taken for one whose every other stroke is weak", () => {
    // Down in three frames, up in five: alone, the stroke up would lift a third of what the stroke down does.
    const document = (share: number) =>
      birdDocument({
        first: 1,
        last: 105,
        body: (frame) => [0, 2, (4 * (frame - 1)) / 24],
        wings: (frame) => {
          const t = (frame - 1) % 8;
          const turn = t < 3 ? t / 3 : 1 + (t - 3) / 5;
          const high = Math.cos(Math.PI * turn);
          return frame >= 41 && frame <= 65 ? 30 - 30 * share * (1 - high) : 30 * high;
        },
      });
    expect(notes(document(1))).toEqual([]);
    const [note, ...others] = notes(document(0.5));
    expect(others).toEqual([]);
    expect(note.frames).toEqual([41, 65]);
  });

  test("nothing glides so flat that the beat may be half as wide", () => {
    // Three quarters of a glide of 1:12 are 1:16.
    expect(notes(flight({ share: 0.5, sinks: 1 / 40 }))).toHaveLength(1);
  });

  test("slow beats give no less than fast ones, and may give more", () => {
    expect(notes(braking(1.6))).toEqual([]);
  });

  test.each([24, 25, "24000/1001"])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(hover({ wider: 1.6 }, { rate, unit }))).toHaveLength(1);
  });
});
