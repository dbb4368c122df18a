import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readBvh } from "../../../packages/adapters/bvh/read.ts";
import type { Curve, Shot } from "../../../packages/core/document/model.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { speedOf } from "../../../packages/core/motion/path/spacing.ts";
import { eachAlone } from "../../../packages/core/notes/assemble.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf as studyOfShot } from "../../../packages/core/settings/study.ts";
import { gridOf } from "../../../packages/core/time/grid.ts";
import { swivelled, withKeys } from "../../support/capture.ts";

// biome-ignore lint/suspicious/noExplicitAny: the bench is plain JavaScript
const { lookedAt, lookedUp }: any = await import(
  new URL("../../bench/faults/capture-notes.mjs", import.meta.url).href
);

/** Recordings of the Debian package assimp-testmodels; 01_01 and 01_03 are CMU's (mocap.cs.cmu.edu, NSF EIA-0196217). */
const recordings = ["01_01", "01_03", "Boxing_Toes"];

function recorded(name: string): Shot {
  const file = `/usr/share/assimp/models/BVH/${name}.bvh`;
  const { shot } = readBvh(readFileSync(file, "utf8"), { rate: 24 });
  if (shot === null) throw new Error(`${file} cannot be read.`);
  return shot;
}

const studyOf = (shot: Shot) => studyOfShot(shot, defaultSettings(registry));
/** Each finding by itself, also where another note tells it. */
const notesOn = (shot: Shot) => eachAlone(notesOf(studyOf(shot)));
/** What a check says of a changed shot that it did not say of the shot as it was recorded, at a frame. */
function newNotes(
  before: readonly Note[],
  after: readonly Note[],
  check: string,
  frame: number,
): readonly Note[] {
  const said = new Set(before.map(({ fingerprint }) => fingerprint));
  return after.filter(
    (note) =>
      note.check === check &&
      !said.has(note.fingerprint) &&
      note.frames[0] <= frame &&
      frame <= note.frames[1],
  );
}

describe("recordings, seen at 24 frames per second", () => {
  const seen = recordings.map((name) => {
    const study = studyOf(recorded(name));
    const notes = notesOf(study);
    return {
      name,
      count: gridOf(study).count,
      notes,
      major: notes.filter(({ tier }) => tier === "major"),
    };
  });

  // Three would be too many to read; people who were recorded with slips of a frame and feet that slide by 4 cm earn
  // fewer than one.
  test.each(seen)("$name gives fewer than one major note per 100 frames", ({ count, notes, major }) => {
    expect(count).toBeGreaterThan(500);
    expect((100 * major.length) / count).toBeLessThan(1);
    for (const { frames } of notes) {
      expect(frames[0]).toBeGreaterThanOrEqual(1);
      expect(frames[1]).toBeLessThanOrEqual(count);
    }
  });

  test("no more than one major note per 1,000 frames is one that no reader found right", () => {
    const frames = seen.reduce((sum, { count }) => sum + count, 0);
    const unread = seen.flatMap(({ name, major }) =>
      major.filter((note) => lookedUp(`${name}.bvh`, note) === null),
    );
    expect((1000 * unread.length) / frames, unread.map(({ message }) => message).join("\n")).toBeLessThan(1);
  });

  test("what a reader found right is still said: else its entry is to be taken out", () => {
    for (const { name, notes } of seen) {
      const answered = new Set(eachAlone(notes).map((note) => lookedUp(`${name}.bvh`, note)));
      expect(lookedAt[`${name}.bvh`].filter((one: object) => !answered.has(one))).toEqual([]);
    }
  });

  test.each(seen)(
    "$name is told of each noisy part and of each joint near lock once at a time",
    ({ notes }) => {
      const locks = notes.filter(({ check }) => check === "gimbal-lock").map(({ node }) => node);
      expect(new Set(locks).size).toBe(locks.length);
      const noisy = notes.filter(({ check }) => check === "jitter");
      for (const note of noisy) {
        const same = noisy.filter((other) => other !== note && other.node === note.node);
        for (const { frames } of same) {
          expect(frames[0] > note.frames[1] || frames[1] < note.frames[0], note.message).toBe(true);
        }
      }
    },
  );
});

describe("faults in a copy of a recording", () => {
  const shot = recorded("01_01");
  const before = notesOn(shot);

  test.each([60, 170, 305, 410])("3 cm too high for one frame is a pop of the hips at frame %i", (frame) => {
    const unit = 0.0254 / 0.45;
    const popped = withKeys(shot, "Hips", frame, (channel, value) =>
      channel === "translation.y" ? value + 0.03 / unit : value,
    );
    const [note] = newNotes(before, notesOn(popped), "pop", frame);
    expect(note).toMatchObject({ node: "Hips", frames: [frame, frame] });
    expect(note.keys[0]).toMatchObject({ node: "Hips", channel: "translation.y", frame });
  });

  test.each([70, 200, 330, 500])("a knee that swivels by 15° on frame %i is a pop of that leg", (frame) => {
    const limb = { upper: "LeftUpLeg", end: "LeftFoot" };
    const [note] = newNotes(before, notesOn(swivelled(shot, studyOf(shot), limb, frame, 15)), "pop", frame);
    expect(note).toBeDefined();
    expect(note.frames).toEqual([frame, frame]);
    expect(note.keys[0]).toMatchObject({ node: "LeftUpLeg", frame });
    expect([note.node, ...note.seenAt]).toContain("LeftUpLeg");
  });

  test("a root that freezes while it goes at more than 1 m/s is found where it freezes", () => {
    const study = studyOf(shot);
    const hips = rigOf(study).indexOf.get("Hips") ?? -1;
    const speed = speedOf(study, hips);
    const said = new Set(before.map(({ fingerprint }) => fingerprint));
    const places = Array.from({ length: 20 }, (_, k) => 20 + 25 * k).filter((frame) => speed[frame - 1] > 1);
    expect(places.length).toBeGreaterThan(3);
    for (const frame of places) {
      const found = notesOn(frozenRoot(shot, frame, frame + 12)).filter(
        (note) => !said.has(note.fingerprint) && note.frames[0] <= frame + 2 && note.frames[1] >= frame - 1,
      );
      expect(
        found.map(({ node }) => node),
        `frozen at ${frame}`,
      ).toContain("Hips");
    }
  });
});

/** A shot whose root keeps the place that it has at one frame until another. */
function frozenRoot(shot: Shot, from: number, to: number): Shot {
  const curves = shot.curves.map((curve): Curve => {
    if (curve.node !== "Hips" || !curve.channel.startsWith("translation.")) return curve;
    const values = curve.values.slice();
    const first = curve.frames.indexOf(from);
    for (let key = first; key < values.length && curve.frames[key] <= to; key++) values[key] = values[first];
    return { ...curve, values };
  });
  return { ...shot, curves };
}
