import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { setShot } from "../../../packages/core/document/inputs.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { configJsonSchema, readConfig } from "../../../packages/core/expressions/config.ts";
import { matches } from "../../../packages/core/expressions/own-check.ts";
import type { OwnCheckSpec } from "../../../packages/core/expressions/spec-schema.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { eachAlone } from "../../../packages/core/notes/assemble.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { type Config, ConfigError } from "../../../packages/core/settings/config.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf as studyOfShot } from "../../../packages/core/settings/study.ts";
import { bipedDocument, documentOf, everyFrame, studyOf } from "../../support/shots.ts";

/** A crate that rests, is carried at 2 m/s from frame 11 to 21, and rests; held from frame 5 to 40. */
function crateShot(
  options: { readonly rate?: number; readonly unit?: number; readonly id?: string } = {},
): CurveDocument {
  const { rate = 24, unit = 1, id = "crate" } = options;
  const way = (frame: number) => (2 / rate) * Math.min(10, Math.max(0, frame - 11));
  const biped = bipedDocument({}, {});
  return documentOf(
    [...biped.nodes, { id, translation: [0.5, 1, 0] }],
    { [`${id} translation.x`]: everyFrame(1, 48, (frame) => 0.5 + way(frame)) },
    {
      rate,
      unit,
      range: [1, 48],
      more: {
        figures: biped.figures ?? [],
        surfaces: biped.surfaces ?? [],
        contacts: [{ node: "hand_l", with: id, frames: [5, 40] }],
      },
    },
  );
}

const limit: OwnCheckSpec = {
  name: "prop-speed",
  tier: "minor",
  node: "crate",
  when: "held(crate)",
  expression: "speed(crate) > 1.2 m/s",
  for: "3 frames",
  message: "{subject} moves at {speed(crate)} while it is held",
  why: "props are heavy in this show",
};

const configOf = (...ownChecks: OwnCheckSpec[]) => readConfig(registry, { ownChecks });

/** The notes of own checks, those that another note lists among them: what one change clears is told once. */
async function notes(document: CurveDocument, ...specs: OwnCheckSpec[]): Promise<readonly Note[]> {
  const names = new Set(specs.map(({ name }) => name));
  const all = eachAlone(notesOf(studyOf(document, await configOf(...specs))));
  return all.filter(({ check }) => names.has(check));
}

describe("a limit on a prop's speed while it is held", () => {
  test("is noted at the crate's keys with its values", async () => {
    const [note, ...others] = await notes(crateShot(), limit);
    expect(others).toEqual([]);
    expect(note).toMatchObject({
      check: "prop-speed",
      tier: "minor",
      node: "crate",
      message: "crate moves at 2 m/s while it is held, frames 12 to 20",
      measured: { quantity: "speed(crate)", unit: "m/s" },
      expected: { max: 1.2, unit: "m/s", source: "a limit of this studio" },
      why: "Props are heavy in this show.",
      suggestion: "change the keys that are named until speed(crate) is at most 1.2 m/s",
    });
    expect(note?.measured.value).toBeCloseTo(2, 9);
    expect(note?.keys[0]).toMatchObject({ node: "crate", channel: "translation.x" });
    expect(note?.evidence[0]).toMatchObject({ label: "speed(crate)", unit: "m/s" });
    // Tier and weight agree, so that ranking by weight is ranking by tier.
    expect(note?.weight).toBeGreaterThanOrEqual(0.3);
    expect(note?.weight).toBeLessThan(0.6);
  });

  test.each([
    ["under the limit", { expression: "speed(crate) > 2.1 m/s" }],
    ["for too short", { for: "12 frames" }],
    ["while it is not held", { when: "not held(crate)" }],
    [
      "of a prop that is not there",
      { node: "barrel", when: "held(barrel)", expression: "speed(barrel) > 1.2 m/s", message: "x" },
    ],
    ["of a figure that is not there", { figure: "nobody" }],
  ])("says nothing %s", async (_, change) => {
    expect(await notes(crateShot(), { ...limit, ...change })).toEqual([]);
  });

  test.each([
    ["in centimetres", { unit: 0.01 }, {}],
    ["at 48 frames per second", { rate: 48 }, { for: "0.125 s" }],
    [
      "by a pattern",
      {},
      {
        node: "cr*",
        when: "held(subject)",
        expression: "speed(subject) > 1.2 m/s",
        message: "{subject} at {speed(subject)}",
      },
    ],
  ])("is the same %s", async (_, shot, change) => {
    const [note] = await notes(crateShot(shot), { ...limit, ...change });
    expect(note?.measured.value).toBeCloseTo(2, 9);
  });

  test("a name that is no word is quoted", async () => {
    const spec = {
      ...limit,
      node: "set:crate.1",
      when: 'held("set:crate.1")',
      expression: 'speed("set:crate.1") > 1.2 m/s',
      message: "too fast",
    };
    expect(await notes(crateShot({ id: "set:crate.1" }), spec)).toHaveLength(1);
  });
});

test("a condition that names no node is a note of the shot", async () => {
  const [note] = await notes(crateShot(), {
    name: "always",
    tier: "polish",
    expression: "1 m < 2 m",
    message: "so it is",
  });
  expect(note).toMatchObject({
    node: null,
    figure: null,
    keys: [],
    frames: [1, 48],
    message: "so it is, frames 1 to 48",
  });
});

test("the tier is the studio's, however small the fault, and lower ones stay lower", async () => {
  const tiny = { ...limit, expression: "y(crate) > 99.99 cm", message: "high", when: "held(crate)" };
  for (const tier of ["major", "minor", "polish"] as const) {
    const [note] = await notes(crateShot(), { ...tiny, tier });
    expect(note?.tier).toBe(tier);
  }
});

describe("series", () => {
  const yes = (expression: string) => ({ name: "yes", tier: "polish", expression, message: "yes" }) as const;
  test.each([
    ["x(crate) > 1.3 m", [21, 48]],
    ["distance(crate, hips) < 0.51 m", [1, 11]],
    ["height(crate) > 0.59 H", null],
    ["height(crate) > 0.58 H", [1, 48]],
    ["spacing(crate) > 8 cm", [12, 21]],
    ['channel(crate, "translation.x") > 1.3 m', [21, 48]],
    ["contact(hand_l, crate)", [5, 40]],
    ["held(crate)", [5, 40]],
    ["held(hand_l)", null],
    ["planted(leftFoot)", [1, 48]],
    ["airborne()", null],
    ["repeated(crate)", null],
    ["angle(crate, hips) > 1 deg", null],
    ["angularSpeed(crate) > 1 deg/s", null],
    ["acceleration(crate) > 20 m/s^2", [11, 11]],
    ["0.5 m < x(crate) < 1 m", [12, 16]],
  ])("%s", async (expression, frames) => {
    const found = await notes(crateShot(), yes(expression));
    expect(found[0]?.frames ?? null).toEqual(frames);
  });
});

test("body parts are named of the figure in question", async () => {
  const spec = {
    name: "hand-low",
    tier: "polish",
    part: "leftHand",
    expression: "y(subject) > y(head)",
    message: "{subject} at {y(subject)}",
  } as const;
  const raised = bipedDocument(
    {
      "upper_arm_l rotation.z": [
        [1, 0],
        [24, 80],
      ],
    },
    { range: [1, 24] },
  );
  const [note] = await notes(raised, spec);
  expect(note).toMatchObject({ node: "hand_l", figure: "walker" });
  expect(note?.message).toMatch(/^left hand at 1\.\d+ m, frames \d+ to 24$/);
  // The keys that raise it stand further up.
  expect(note?.keys[0]).toMatchObject({ node: "upper_arm_l", channel: "rotation.z" });
});

test("after an edit the notes are those of a fresh study", async () => {
  const settings = resolveSettings(registry, await configOf(limit));
  const shot = (document: CurveDocument) => shotOf(document).shot as Shot;
  const slow = crateShot();
  for (const key of slow.curves[0]?.keys ?? []) (key as [number, number])[1] *= 0.5;
  const [before, after] = [shot(crateShot()), shot(slow)];
  const study = studyOfShot(before, settings);
  expect(notesOf(study).some(({ check }) => check === "prop-speed")).toBe(true);
  setShot(study, after, before);
  expect(notesOf(study)).toEqual(notesOf(studyOfShot(after, settings)));
  expect(notesOf(study).some(({ check }) => check === "prop-speed")).toBe(false);
  setShot(study, before, after);
  expect(notesOf(study)).toEqual(notesOf(studyOfShot(before, settings)));
});

test("settings cross a thread boundary as text", async () => {
  const config = await configOf(limit);
  const copied = JSON.parse(JSON.stringify(config)) as Config;
  expect(copied).toEqual(config);
  const found = notesOf(studyOf(crateShot(), copied)).filter(({ check }) => check === "prop-speed");
  expect(found).toEqual(notesOf(studyOf(crateShot(), config)).filter(({ check }) => check === "prop-speed"));
  expect(found).toHaveLength(1);
});

test("a run that names other checks leaves them out; it asks for them as own", async () => {
  const config = await configOf(limit);
  const names = (only: string[]) =>
    new Set(notesOf(studyOf(crateShot(), config, { only })).map(({ check }) => check));
  expect(names(["pop"])).not.toContain("prop-speed");
  expect(names(["own"])).toEqual(new Set(["prop-speed"]));
});

describe("what is wrong is said with its place", () => {
  const problems = async (...specs: unknown[]) => {
    try {
      await readConfig(registry, { ownChecks: specs });
    } catch (error) {
      if (error instanceof ConfigError) return error.problems;
      throw error;
    }
    throw new Error("It was taken.");
  };

  test.each([
    [
      { expression: "held(crate) and sped(crate) > 1 m/s" },
      "expression",
      /^Column 17: There is no series "sped"\. Did you mean "speed"\?/,
    ],
    [{ when: "speed(crate)" }, "when", /^Column 1: It must be yes or no/],
    [{ message: "at {sped(crate)} now" }, "message", /^Column 5: There is no series "sped"/],
    [{ message: "at {held(crate)}" }, "message", /^Column 5: .*cannot be shown in a message/],
    [{ message: "at {speed(crate)" }, "message", /^Column 4: This "\{" is not closed/],
    [{ message: "at speed}" }, "message", /^Column 9: There is no "\{"/],
    [{ message: "{1}".repeat(11) }, "message", /at most 10 values/],
    [{ suggestion: "{" }, "suggestion", /not closed/],
    [{ for: "3 m" }, "for", /another kind of quantity/],
    [{ for: "0 frames" }, "for", /no time/],
    [{ name: "hard-stop" }, "name", /There is a check "hard-stop" already/],
    [{ name: "Prop Speed" }, "name", /small letters/],
    [{ tier: "broken" }, "tier", /none of major, minor, polish/],
    [{ part: "leftHand" }, "part", /not both/],
    [{ expresion: "x" }, "expresion", /Did you mean "expression"/],
    [{ expression: undefined }, "expression", /./],
    [{ expression: 'import("fs")' }, "expression", /^Column 1: There is no series "import"/],
  ])("%j", async (change, member, message) => {
    const found = await problems({ ...limit, ...change });
    expect(found[0]?.path).toBe(`ownChecks.0.${member}`);
    expect(found[0]?.message).toMatch(message);
  });

  test("all of them at once, and names that stand there twice", async () => {
    const found = await problems({ ...limit, expression: "x" }, limit, { ...limit, when: "y" });
    expect(found.map(({ path }) => path)).toEqual([
      "ownChecks.0.expression",
      "ownChecks.1.name",
      "ownChecks.2.name",
      "ownChecks.2.when",
    ]);
  });

  test("too many of them", async () => {
    await expect(
      problems(...Array.from({ length: 101 }, (_, i) => ({ ...limit, name: `c-${i}` }))),
    ).resolves.toHaveLength(1);
  });
});

test("the published schema takes what is read and refuses what is not", () => {
  const valid = new Ajv2020({ strict: false }).compile(configJsonSchema(registry));
  expect(valid({ ownChecks: [limit] })).toBe(true);
  expect(valid({ ownChecks: [{ ...limit, code: "x" }] })).toBe(false);
});

test.each([
  ["crate_1", "crate_*", true],
  ["crate_1", "*", true],
  ["crate_1", "*_1", true],
  ["crate_1", "c*t*1", true],
  ["crate_1", "crate", false],
  ["aba", "ab*ba", false],
  ["a.b", "a*c", false],
  ["crate+1", "crate+*", true],
])("%s fits %s: %s", (name, pattern, expected) => {
  expect(matches(name, pattern)).toBe(expected);
});
