import { describe, expect, test } from "vitest";
import { shotOf } from "../../../../packages/core/document/read.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import {
  type JumpOptions,
  jump,
  jumpDocument,
  jumpWithHips,
  type SlopedKey,
} from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const notes = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "early-stop");

/** A jump with tucked legs, so that hips that stay up leave the feet their way to the ground. */
const tucked = { height: 0.54, air: 12 } as const;

/** The jump's keys with a fall that is stopped so many frames before the landing, and let go on afterwards. */
function stopped(early: number, options: JumpOptions = tucked, scale = 1): SlopedKey[] {
  const { heightKeys, landing, motion } = jump(options);
  const frame = landing - early * scale;
  const height = (at: number) => motion.hips(at)[1];
  const slope = (height(frame + 1) - height(frame - 1)) / 2;
  return [
    ...heightKeys.slice(0, 3),
    [frame, height(frame), slope],
    [frame + 2 * scale, height(frame) - 0.05, -0.02 / scale],
    [landing + 2 * scale, height(frame) - 0.15, -0.02 / scale],
    ...heightKeys.slice(4),
  ];
}

/** The jump's keys with a share of its gravity taken from the top on, frame by frame: the fall is braked all the way. */
function brakedFromTop(options: JumpOptions, share = 0.5): { keys: SlopedKey[]; top: number } {
  const { heightKeys, takeOff, landing, motion } = jump(options);
  const height = (frame: number) => motion.hips(frame)[1];
  const speed = (frame: number) => (height(frame + 1) - height(frame - 1)) / 2;
  const top = Math.round((takeOff + landing) / 2);
  const braked = (frame: number) =>
    height(frame) + 0.5 * share * (9.80665 / 576) * Math.max(0, frame - top) ** 2;
  const keys: SlopedKey[] = [...heightKeys.slice(0, 3)];
  for (let frame = top; frame <= landing; frame++) {
    keys.push([frame, braked(frame), (braked(frame + 1) - braked(frame - 1)) / 2]);
  }
  keys.push(
    [landing + 6, height(landing + 6), speed(landing + 6)],
    ...heightKeys.slice(4).filter(([frame]) => frame > landing + 6),
  );
  return { keys, top };
}

describe("early-stop", () => {
  test("a body that falls until its feet carry is silent", () => {
    expect(notes(jumpDocument(tucked))).toEqual([]);
    expect(notes(jumpDocument({ air: 16 }))).toEqual([]);
    expect(notes(jumpDocument({ forward: 1.5 }))).toEqual([]);
  });

  test.each([2, 3, 4])("finds hips that slow down %i frames before the feet touch", (early) => {
    const { landing } = jump(tucked);
    const [note, ...others] = notes(jumpWithHips(tucked, stopped(early)));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "hips", tier: "major", frames: [landing - early, landing] });
    expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.y", frame: landing - early });
    expect(note.measured).toMatchObject({ value: early, unit: "frames" });
    expect(note.message).toContain(`${early} frames before left foot lands at frame ${landing}`);
    expect(note.suggestion).toContain(`keep falling ${early} frames more, to frame ${landing}`);
  });

  test("works out how much lower the body would be", () => {
    const { landing, motion } = jump(tucked);
    const [note] = notes(jumpWithHips(tucked, stopped(4)));
    const { at } = { at: (frame: number) => motion.hips(frame)[1] };
    // The stopped hips are at the third key's height plus what they go on by; the clean ones land at 0.54 m.
    const lower = Number(/([\d.]+) cm lower/.exec(note.suggestion)?.[1]) / 100;
    const stoppedHeight = at(landing - 4) - 0.05 - 2 * 0.02;
    expect(lower).toBeGreaterThan(0.5 * (stoppedHeight - at(landing)));
    expect(lower).toBeLessThan(1.2 * (stoppedHeight - at(landing)));
  });

  test("finds it in a longer fall, at another key", () => {
    const high = { height: 0.54, air: 16 };
    const { landing } = jump(high);
    const [note] = notes(jumpWithHips(high, stopped(3, high)));
    expect(note).toMatchObject({ frames: [landing - 3, landing] });
    expect(note.keys[0]).toMatchObject({ channel: "translation.y", frame: landing - 3 });
  });

  test("one frame is within what a contact between two frames may be off", () => {
    expect(notes(jumpWithHips(tucked, stopped(1)))).toEqual([]);
  });

  test.each([tucked, { height: 0.54, air: 16 }])(
    "finds a stop that sets in at the top of %o and lasts to the ground",
    (options) => {
      const { keys, top } = brakedFromTop(options);
      const [note, ...others] = notes(jumpWithHips(options, keys));
      expect(others).toEqual([]);
      expect(note).toMatchObject({ node: "hips" });
      expect(note.frames[0]).toBeGreaterThanOrEqual(top - 1);
      expect(note.frames[0]).toBeLessThanOrEqual(top + 3);
      expect(note.keys[0].channel).toBe("translation.y");
    },
  );

  test("says it instead of hang time, which sees the same frames", () => {
    const only = (...checks: string[]) => {
      const { shot } = shotOf(jumpWithHips(tucked, brakedFromTop(tucked, 0.7).keys));
      if (shot === null) throw new Error("the jump is a document");
      return notesOf(studyOf(shot, resolveSettings(registry, {}, { only: checks })));
    };
    expect(only("hang-time").map(({ check }) => check)).toEqual(["hang-time"]);
    expect(only("hang-time", "early-stop").map(({ check }) => check)).toEqual(["early-stop"]);
  });

  test("a hang at the top that ends in the air is hang time's to say", () => {
    const high = { height: 0.54, air: 20 };
    const { heightKeys, takeOff, landing, motion } = jump(high);
    const height = (frame: number) => motion.hips(frame)[1];
    const top = Math.round((takeOff + landing) / 2);
    const key = (frame: number, slope: number): SlopedKey => [frame, height(frame), slope];
    const slope = (frame: number) => (height(frame + 1) - height(frame - 1)) / 2;
    const keys = [
      ...heightKeys.slice(0, 3),
      key(top - 2, slope(top - 2)),
      key(top + 2, slope(top + 2)),
      ...heightKeys.slice(3),
    ];
    expect(notes(jumpWithHips(high, keys))).toEqual([]);
    // The same heights, but flat between them.
    const flat = keys.map((one): SlopedKey => (Math.abs(one[0] - top) === 2 ? [one[0], one[1], 0] : one));
    expect(notes(jumpWithHips(high, flat))).toEqual([]);
  });

  test("a fall that is weak all through is hang time's to say", () => {
    expect(notes(jumpDocument({ gravity: 4 }))).toEqual([]);
    expect(notes(jumpDocument({ ...tucked, gravity: 4 }))).toEqual([]);
  });

  test("a declared contact of a hand carries", () => {
    const { landing } = jump(tucked);
    const held = jumpWithHips(tucked, stopped(4));
    const contacts = [
      { node: "hand_l", with: "rail", frames: [landing - 5, landing + 4] as [number, number] },
    ];
    expect(notes({ ...held, contacts })).toEqual([]);
  });

  test("wings that beat more strongly carry, wings that hang still do not", () => {
    const { landing } = jump(tucked);
    const keys = stopped(4);
    const beating = (amplitude: number) => {
      const document = jumpWithHips(tucked, keys);
      const beat = Array.from({ length: 12 }, (_, i): [number, number] => [
        landing - 10 + 2 * i,
        i % 2 === 0 ? amplitude : -amplitude,
      ]);
      return {
        ...document,
        curves: [...document.curves, { node: "upper_arm_l", channel: "rotation.z" as const, keys: beat }],
        propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" as const }],
      };
    };
    expect(notes(beating(40))).toEqual([]);
    expect(notes(beating(0))).toHaveLength(1);
  });

  test.each([24, 25, "24000/1001", 60])("finds it at %s frames per second, in any unit", (rate) => {
    const scale = rate === 60 ? 2.5 : 1;
    for (const unit of [1, 0.01]) {
      const options = { ...tucked, rate, unit };
      const { landing } = jump(options);
      const [note, ...others] = notes(jumpWithHips(options, stopped(4, options, scale)));
      expect(others).toEqual([]);
      expect(note.frames[1]).toBe(landing);
      expect(Math.abs(note.frames[0] - (landing - 4 * scale))).toBeLessThanOrEqual(scale);
    }
  });

  test("a captured jump falls until it lands", () => {
    for (const rate of [24, 60]) {
      const study = studyOf(capturedJump(rate), resolveSettings(registry, {}, { only: ["early-stop"] }));
      expect(notesOf(study)).toEqual([]);
    }
  });

  test("barren documents are silent", () => expectQuietOnBarren("early-stop"));
});
