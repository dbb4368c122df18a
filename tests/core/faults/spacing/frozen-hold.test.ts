import { describe, expect, test } from "vitest";
import { chainDocument, notesOfCheck } from "../../../support/shots.ts";

describe("frozen-hold", () => {
  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const at = (seconds: number) => Math.round(seconds * (rate === 60 ? 60 : 24));
    const frozen = (until: number) => {
      const keys: [number, number][] = [
        [0, 0],
        [at(1), 60],
        [at(until), 60],
        [at(until + 1), 0],
      ];
      return notesOfCheck(chainDocument(2, { "joint_1 rotation.z": keys }, { rate }), "frozen-hold");
    };
    const notes = frozen(1.5);
    expect(notes).toMatchObject([{ frames: [at(1), at(1.5)] }]);
    expect(notes[0].message).toContain(
      `stay frozen, frames ${at(1)} to ${at(1.5)} (${at(1.5) - at(1) + 1} frames)`,
    );
    expect(frozen(1.125)).toEqual([]);
  });
});
