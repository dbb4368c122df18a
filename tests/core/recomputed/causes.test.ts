import { type CheckName, notesOf, registry, resolveSettings, studyOf } from "@keyside/core";
import { describe, expect, test } from "vitest";
import { shotsModule } from "../../bench/shots/load.ts";
import { noteTrial, verdictOf } from "../../bench/trust/causes/note-trial.ts";
import { pointFaults } from "../../bench/trust/causes/point-faults.ts";
import { type Recompute, recomputerOf } from "./shared/compare.ts";
import { exampleMotions, shotFrom } from "./shared/shots.ts";

/**
 * The key that a note names first, put right in a plain way, changes the note's number at least as much as any key that
 * the note does not name. The number is the one that is computed again, and what puts keys right is not what names them.
 * `npm run bench:causes` does the same on whole shots.
 */
const { randomOf } = await shotsModule("./random.mjs");

describe("the key named first, against keys that are not named", () => {
  test.each(pointFaults)("%s, on the motions of its examples", async (name: CheckName) => {
    const recompute = (await recomputerOf(name)) as Recompute;
    const wrong: string[] = [];
    for (const { motion, config = {} } of exampleMotions(name)) {
      const shot = shotFrom(motion());
      const settings = resolveSettings(registry, config, { only: [name] });
      const study = studyOf(shot, settings);
      for (const note of notesOf(study)) {
        const trial = noteTrial(shot, study, settings, note, recompute, randomOf(`${name} ${note.frames}`));
        if (verdictOf(trial) !== "less") continue;
        const [key] = note.keys;
        wrong.push(
          `${note.message}: ${key?.node} ${key?.channel} ${key?.frame} by ${trial.first}, ${trial.rival?.node} ${trial.rival?.channel} ${trial.rival?.frame} by ${trial.control}`,
        );
      }
    }
    expect(wrong).toEqual([]);
  });
});
