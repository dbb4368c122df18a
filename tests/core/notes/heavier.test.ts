import { expect, test } from "vitest";
import type { Check, Finding } from "../../../packages/core/faults/check.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { assembleNotes } from "../../../packages/core/notes/assemble.ts";
import type { Draft } from "../../../packages/core/notes/group.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { tiers } from "../../../packages/core/settings/tier.ts";
import { bipedDocument, studyOf } from "../../support/shots.ts";

/** A heavy note is never hidden by a lighter one: whatever two checks find on one joint in the same frames. */

const study = studyOf(bipedDocument({}));
const node = rigOf(study).indexOf.get("hand_l") as number;

function draft(
  check: Check,
  size: number,
  excess: number,
  frames: readonly [number, number] = [10, 13],
): Draft {
  const finding: Finding = {
    node,
    figure: 0,
    from: frames[0],
    to: frames[1],
    measured: { quantity: "way", value: size, unit: "m" },
    expected: { max: size / excess, unit: "m", source: "this test" },
    excess,
    size,
    fault: null,
  };
  return {
    check,
    subject: 0,
    finding,
    keys: [],
    tried: 0,
    message: `${check.name} speaks`,
    suggestion: "mend it",
  };
}

/** The tier of the heaviest note, 0 for what breaks a document. */
const heaviest = (drafts: readonly Draft[]) =>
  Math.min(...assembleNotes(study, drafts).map(({ tier }) => tiers.indexOf(tier)));

test.each(registry.map((check) => [check.name, check] as const))(
  "what %s finds is told as heavily beside what any other check finds",
  (_name, check) => {
    const heavy = draft(check, 1, 50);
    for (const other of registry) {
      if (other === check) continue;
      const light = draft(other, 0.002, 1.01, [9, 12]);
      expect(heaviest([heavy, light]), `${check.name} beside ${other.name}`).toBeLessThanOrEqual(
        heaviest([heavy]),
      );
      expect(heaviest([light, heavy]), `${other.name} before ${check.name}`).toBeLessThanOrEqual(
        heaviest([heavy]),
      );
    }
  },
);

test("two that say the same are one note, which weighs as much as the heavier", () => {
  const named = (name: string) => registry.find((check) => check.name === name) as Check;
  const pop = draft(named("pop"), 1, 50);
  const flip = draft(named("rotation-flip"), 0.002, 1.01);
  const [told, ...more] = assembleNotes(study, [pop, flip]);
  expect(more).toEqual([]);
  expect(told).toMatchObject({ check: "rotation-flip", tier: "major" });
  const [alone] = assembleNotes(study, [pop]);
  expect(told.weight).toBe(alone.weight);
});

test("what a configuration holds lighter is meant to be light, and speaks all the same", () => {
  const named = (name: string) => registry.find((check) => check.name === name) as Check;
  const limited = studyOf(bipedDocument({}), { checks: { "rotation-flip": { tier: "polish" } } });
  const drafts = [draft(named("pop"), 1, 50), draft(named("rotation-flip"), 0.002, 1.01)];
  const told = assembleNotes(limited, drafts);
  expect(told.map(({ check, tier }) => `${tier} ${check}`)).toEqual(["polish rotation-flip"]);
});

test("what a check's own ceiling keeps from weighing as much does not hide it", () => {
  const named = (name: string) => registry.find((check) => check.name === name) as Check;
  const light: Check = { ...named("rotation-flip"), name: "slight-turn", ceiling: "minor" };
  const heavy: Check = { ...named("pop"), name: "great-leap", yieldsTo: ["slight-turn" as never] };
  const told = assembleNotes(study, [draft(heavy, 1, 50), draft(light, 0.002, 1.01)]);
  expect(told.map(({ check, tier }) => `${tier} ${check}`)).toEqual([
    "major great-leap",
    "polish slight-turn",
  ]);
});
