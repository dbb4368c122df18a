import { notesOf, registry, resolveSettings, studyOf } from "@keyside/core";
import { describe, expect, test } from "vitest";
import { exampleMotions, shotFrom } from "../recomputed/shared/shots.ts";

/** What is missing rather than wrong: the note says on which channel a key is missing, and over which frames. */
describe("what is missing rather than wrong", () => {
  test.each(["still-wrist", "no-drag", "lone-joint"] as const)(
    "%s names a channel of the part that should answer, its frames, and no share that nobody tried",
    (name) => {
      let told = 0;
      for (const { motion, config = {} } of exampleMotions(name)) {
        const shot = shotFrom(motion());
        const curves = new Set(shot.curves.map(({ node, channel }) => `${node} ${channel}`));
        for (const note of notesOf(studyOf(shot, resolveSettings(registry, config, { only: [name] })))) {
          told++;
          for (const key of note.keys) expect(key.share).toBeUndefined();
          expect(note.frames[1]).toBeGreaterThan(note.frames[0]);
          const [key] = note.keys;
          const missing = /with keys on (?:its|(.+)'s) (rotation(?:\.[xyz])?), which has none/.exec(
            note.suggestion,
          );
          if (missing === null) expect(curves).toContain(`${key?.node} ${key?.channel}`);
          else if (missing[1] === undefined) expect(curves).not.toContain(`${note.node} ${missing[2]}`);
        }
      }
      expect(told).toBeGreaterThan(0);
    },
  );

  test("the axis that is named is the one about which the part's carrier turns", () => {
    const [{ motion }] = exampleMotions("still-wrist");
    const shot = shotFrom(motion());
    const [note] = notesOf(studyOf(shot, resolveSettings(registry, {}, { only: ["still-wrist"] })));
    // The forearm of that motion is swung about its z alone, and the hand's axes lie along the forearm's.
    expect(note.suggestion).toMatch(/with keys on its rotation\.z, which has none$/);
    expect(note.keys).toEqual([]);
  });

  test("a neck without keys is asked for the head's own turn", () => {
    for (const { motion } of exampleMotions("lone-joint")) {
      const shot = shotFrom(motion());
      for (const { suggestion } of notesOf(
        studyOf(shot, resolveSettings(registry, {}, { only: ["lone-joint"] })),
      )) {
        const turned = shot.curves.filter(
          ({ node, channel }) => node === "head" && channel.startsWith("rotation"),
        );
        const asked = /rotation\.[xyz]/.exec(suggestion)?.[0];
        if (asked !== undefined && turned.length === 1) expect(turned[0].channel).toBe(asked);
      }
    }
  });
});
