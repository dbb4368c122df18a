import { defaultSettings, registry, type Shot, studyOf } from "@keyside/core";
import { heldOf, strengthNames } from "@keyside/core/internal";
import { describe, expect, test } from "vitest";
import { cases } from "../strengths/motions.ts";
import { Sampled } from "./shared/sampled.ts";
import { capturedJump, demoShots, developmentShots, shotFrom } from "./shared/shots.ts";
import { recomputeStrength } from "./strengths.ts";

/**
 * Every number that is told of what holds is computed a second time, plainly, from sampled positions and turns and the
 * frames that are told alone. Agreement within 2 %, or a tenth of a millimetre, of a degree or of a frame.
 */

const settings = defaultSettings(registry);
const shots = [...demoShots(), ...(await developmentShots([0])), capturedJump()];

function apart(shot: Shot): { readonly kinds: string[]; readonly apart: string[] } {
  const study = studyOf(shot, settings);
  const sampled = new Sampled(shot, study);
  const all = heldOf(study).map(({ strength }) => strength);
  const lines = all.flatMap((strength) => {
    const { kind, measured, message } = strength;
    const again = recomputeStrength[kind](strength, sampled);
    const near = Math.max(measured.unit === "m" ? 1e-4 : 0.1, 0.02 * Math.abs(measured.value));
    return Math.abs(again - measured.value) <= near ? [] : [`${message}: ${measured.value}, again ${again}`];
  });
  return { kinds: all.map(({ kind }) => kind), apart: lines };
}

describe("numbers of what holds, computed again", () => {
  test.each(strengthNames)("%s tells the number that is there", (name) => {
    for (const { motion } of cases[name].holds) {
      const { kinds, apart: lines } = apart(shotFrom(motion()));
      expect(kinds).toContain(name);
      expect(lines).toEqual([]);
    }
  });

  test.each(shots)("all on $name tell the number that is there", ({ make }) => {
    expect(apart(make()).apart).toEqual([]);
  });
});
