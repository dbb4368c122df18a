import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { birdDocument } from "../../../../packages/core/faults/shared/examples/birds.ts";
import { jumpDocument } from "../../../support/bodies.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { type DocumentOptions, notesOfCheck } from "../../../support/shots.ts";

const notes = (document: CurveDocument) => notesOfCheck(document, "beat-mismatch");

interface Hover {
  /** Upward acceleration between the frames of `stretch`, m/s². */
  readonly climb?: number;
  /** Amplitude of the beat there, as a factor. */
  readonly wider?: number;
  readonly stretch?: readonly [number, number];
}

/** A bird that hovers on the spot with ten beats of eight frames, but for a stretch. */
function hover(
  { climb = 0, wider = 1, stretch = [33, 49] }: Hover,
  options: DocumentOptions = {},
): CurveDocument {
  const [from, to] = stretch;
  return birdDocument(
    {
      first: 1,
      last: 81,
      body: (frame) => {
        // Up and down again: the speed that it gains in the first half it loses in the second one.
        const half = (to - from) / 2 / 24;
        const t = Math.min(Math.max(0, frame - from) / 24, 2 * half);
        const rise = t <= half ? 0.5 * t * t : half * half - 0.5 * (2 * half - t) ** 2;
        return [0, 2 + climb * rise, 0];
      },
      wings: (frame) => {
        const swing = frame >= from && frame <= to ? wider : 1;
        return 30 * swing * Math.sin((2 * Math.PI * (frame - 1)) / 8);
      },
    },
    options,
  );
}

interface Flight {
  /** Height lost, and speed lost over the way (as height), metres per metre from frame 41 to frame 65. */
  readonly sinks?: number;
  /** Amplitude of the beat there, as a factor. */
  readonly share?: number;
  readonly speed?: number;
}

/** A bird that flies level at a steady speed with ten beats of eight frames; from frame 41 to 65 its beat is another. */
function flight({ sinks = 0, share = 1, speed = 4 }: Flight): CurveDocument {
  return birdDocument({
    first: 1,
    last: 105,
    body: (frame) => {
      const t = Math.min(Math.max(0, frame - 41), 24) / 24;
      return [0, 2 - sinks * speed * t, (speed * (frame - 1)) / 24];
    },
    wings: (frame) => {
      const swing = frame >= 41 && frame <= 65 ? share : 1;
      return 30 * swing * Math.sin((2 * Math.PI * (frame - 1)) / 8);
    },
  });
}

describe("beat-mismatch", () => {
  test("a steady beat that carries a hover is silent", () => {
    expect(notes(hover({}))).toEqual([]);
    expect(notes(hover({}, { more: { propulsors: [] } }))).toEqual([]);
  });

  test("finds a body that shoots up on the same beat", () => {
    const found = notes(hover({ climb: 14, stretch: [33, 65] }));
    expect(found.length).toBeGreaterThanOrEqual(1);
    const [note] = found;
    expect(note.node).toBe("body");
    expect(note.frames[1]).toBeGreaterThanOrEqual(33);
    expect(note.frames[0]).toBeLessThanOrEqual(65);
    expect(note.message).toContain("body needs a lift of");
    expect(note.keys[0].channel).toBe("rotation.z");
  });

  test("finds a beat that grows while the body hovers on", () => {
    // 1.6 times as wide lifts 2.56 times as much.
    const [note, ...others] = notes(hover({ wider: 1.6 }));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "body", measured: { unit: "ratio" } });
    expect(note.measured.value).toBeGreaterThan(1.8);
    expect(note.measured.value).toBeLessThan(2.7);
    expect(note.frames[0]).toBeGreaterThanOrEqual(25);
    expect(note.frames[1]).toBeLessThanOrEqual(57);
    expect(note.suggestion).toContain("narrower");
  });

  test("finds weak beats in forward flight that lose neither height nor speed, all of them as one", () => {
    // Half as wide lifts a quarter.
    const [note, ...others] = notes(flight({ share: 0.5 }));
    expect(others).toEqual([]);
    expect(note.measured.value).toBeGreaterThan(3);
    expect(note.measured.value).toBeLessThan(4.5);
    // The change lies in the middle of a stroke; the note begins and ends with a stroke that is weak from end to end.
    expect(note.frames).toEqual([43, 63]);
    expect(note.keys[0].node).toMatch(/^wing_/);
    expect(note.keys[0].channel).toBe("rotation.z");
    expect(note.keys[0].frame).toBeGreaterThanOrEqual(36);
    expect(note.suggestion).toContain("as fast or as wide");
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

  test("weak beats that the body pays for with height are a glide", () => {
    expect(notes(flight({ share: 0.5, sinks: 1 / 8 }))).toEqual([]);
    // Three quarters of a glide of 1:12 are 1:16; nothing glides on for 1:40 so.
    expect(notes(flight({ share: 0.5, sinks: 1 / 40 }))).toHaveLength(1);
  });

  /** A bird that slows down at frame 61 from four metres per second to one, with fewer than four beats after it. */
  function landing(share: number): CurveDocument {
    return birdDocument({
      first: 1,
      last: 89,
      body: (frame) => {
        // Braked over 12 frames: 4 m/s before, 1 m/s after.
        const t = Math.min(Math.max(0, frame - 61), 12) / 24;
        const after = Math.max(0, frame - 73) / 24;
        return [0, 2, (4 * Math.min(frame - 1, 60)) / 24 + 4 * t - 3 * t * t + after];
      },
      wings: (frame) => 30 * (frame > 67 ? share : 1) * Math.sin((2 * Math.PI * (frame - 1)) / 8),
    });
  }

  test("slow beats give no less than fast ones: finds weak ones after a braking, and leaves strong ones", () => {
    const [note, ...others] = notes(landing(0.5));
    expect(others).toEqual([]);
    expect(note.frames[0]).toBeGreaterThanOrEqual(61);
    expect(note.suggestion).toContain("as fast or as wide");
    expect(notes(landing(1.6))).toEqual([]);
  });

  test("a beat that is a fifth wider is within what the eye forgives", () => {
    expect(notes(hover({ wider: 1.2 }))).toEqual([]);
  });

  test("a beat that grows with the climb is silent", () => {
    // Up at 7 m/s² needs 1.71 times the weight: 1.31 times as wide; coming to rest again needs 0.29 times of it.
    const document = birdDocument({
      first: 1,
      last: 81,
      body: (frame) => {
        const t = Math.max(0, Math.min(frame - 33, 16)) / 24;
        const after = Math.max(0, frame - 49) / 24;
        return [0, 2 + 3.5 * t * t + 7 * (16 / 24) * after, 0];
      },
      wings: (frame) => {
        const swing = frame >= 33 && frame <= 49 ? 1.31 : 1;
        return 30 * swing * Math.sin((2 * Math.PI * (frame - 1)) / 8);
      },
    });
    expect(notes(document)).toEqual([]);
  });

  test("a glide, few beats, and a body without wings are silent", () => {
    const glide = birdDocument({
      first: 1,
      last: 80,
      body: (frame) => [0, 2 + 0.01 * frame, 0.15 * frame],
      wings: () => 12,
    });
    expect(notes(glide)).toEqual([]);
    const twice = birdDocument({
      first: 1,
      last: 80,
      body: (frame) => [0, 2 + 0.001 * frame * frame, 0],
      wings: (frame) => (frame < 20 ? 30 * Math.sin((2 * Math.PI * frame) / 8) : 0),
    });
    expect(notes(twice)).toEqual([]);
    expect(notes(jumpDocument())).toEqual([]);
  });

  test.each([24, 25, "24000/1001"])("finds it at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01]) expect(notes(hover({ wider: 1.6 }, { rate, unit }))).toHaveLength(1);
  });

  test("barren documents are silent", () => expectQuietOnBarren("beat-mismatch"));
});
