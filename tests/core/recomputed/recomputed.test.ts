import { defaultSettings, registry, resolveSettings, studyOf } from "@keyside/core";
import { describe, expect, test } from "vitest";
import { agreeWithin, type Compared, compared, recomputerOf } from "./shared/compare.ts";
import { capturedJump, demoShots, developmentShots, exampleMotions, shotFrom } from "./shared/shots.ts";

/**
 * Every number that a note tells is computed a second time, plainly, from sampled positions and turns and the note's own
 * frames alone, as the check's page says. The recomputers stand in the folders of their checks' families; they use the
 * document reader and the poses, and nothing of what they test.
 */

const recomputed = registry.map(({ name }) => name);

/** One development shot of the whole-shot bench; building more takes long, and `npm run bench:trust` goes over many. */
const shots = [...demoShots(), ...(await developmentShots([14])), capturedJump()];

const inWords = ({ check, note, said, again, reason }: Compared) =>
  `${check} at ${note.node}, frames ${note.frames.join(" to ")}: says ${said} ${note.measured.unit}, is ${again} ${reason}`;

const apart = (all: readonly Compared[]) => all.filter((one) => one.apart > agreeWithin).map(inWords);

describe("numbers computed again", () => {
  test.each(recomputed)("%s has a recomputer", async (name) => {
    expect(await recomputerOf(name)).not.toBeNull();
  });

  test.each(recomputed)("%s tells the number that is there on the motions of its examples", async (name) => {
    const all: Compared[] = [];
    for (const { motion, config = {} } of exampleMotions(name)) {
      const shot = shotFrom(motion());
      const study = studyOf(shot, resolveSettings(registry, config, { only: [name] }));
      all.push(...(await compared(shot, study)));
    }
    expect(all.length).toBeGreaterThan(0);
    expect(apart(all)).toEqual([]);
  });

  test.each(shots)("all notes on $name tell the number that is there", async ({ make }) => {
    const shot = make();
    const all = await compared(shot, studyOf(shot, defaultSettings(registry)));
    expect(apart(all)).toEqual([]);
  });
});
