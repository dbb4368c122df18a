import { describe, expect, test } from "vitest";
import { readShot } from "../../../packages/core/document/read.ts";
import type { Check, Finding } from "../../../packages/core/faults/check.ts";
import { foreignCheck, foreignCheckFaults } from "../../../packages/core/faults/foreign-check.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { failuresOf, notesOf } from "../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { inventedChecks } from "../settings/checks-for-tests.ts";

const [invented] = inventedChecks;
if (invented === undefined) throw new Error("There are invented checks.");
const sound: Check = { ...invented, sources: ["common practice of tests"], scope: "node" };

describe("faults of a check that somebody else has written", () => {
  test("are none of a sound one, nor of any of the program's", () => {
    expect(foreignCheckFaults(sound, [])).toEqual([]);
    for (const check of registry) {
      const others = registry.filter((other) => other !== check).map(({ name }) => name);
      expect(foreignCheckFaults(check, others), check.name).toEqual([]);
    }
  });

  const { slack } = sound.settings;
  test.each<[string, unknown, string | RegExp]>([
    ["no object", 3, "object is wanted"],
    ["a name that is taken", { ...sound, name: "pop" }, 'name: another check is called "pop" already'],
    ["the name for own checks", { ...sound, name: "own" }, 'name: another check is called "own" already'],
    ["a name in capitals", { ...sound, name: "LooseLace" }, /^name: a name is made of small letters/],
    ["nothing to say why", { ...sound, why: undefined }, "why: it is missing"],
    ["an empty text", { ...sound, what: " " }, "what: it is empty"],
    ["no family of ours", { ...sound, family: "cloth" }, /^family: it is one of spacing, paths/],
    [
      "a member that there is not",
      { ...sound, limit: [] },
      'there is no member "limit". Did you mean "limits"?',
    ],
    ["no find", { ...sound, find: undefined }, "find: a function is wanted"],
    [
      "a unit that there is not",
      { ...sound, settings: { slack: { ...slack, unit: "mm" } } },
      /^settings\.slack\.unit: it is one of/,
    ],
    [
      "a default outside its bounds",
      { ...sound, settings: { slack: { ...slack, default: 7 } } },
      "settings.slack: the default is outside its own bounds",
    ],
    [
      "a setting without a source",
      { ...sound, settings: { slack: { ...slack, source: undefined } } },
      "settings.slack.source: it is missing",
    ],
    [
      "a setting called like a member",
      { ...sound, settings: { tier: slack } },
      "settings.tier: a configuration keeps this name for itself",
    ],
    [
      "a style of no setting",
      { ...sound, styles: { twos: { slak: 2 } } },
      "styles.twos.slak: there is no such setting",
    ],
    [
      "a check to yield to that there is not",
      { ...sound, yieldsTo: ["popp"] },
      'yieldsTo: there is no check "popp". Did you mean "pop"?',
    ],
  ])("%s", (_, check, fault) => {
    const faults = foreignCheckFaults(check, ["pop", "hitch"]);
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatch(
      fault instanceof RegExp ? fault : new RegExp(`^${fault.replace(/[.?()]/g, "\\$&")}$`),
    );
  });
});

describe("what such a check gives", () => {
  const { shot } = readShot(
    JSON.stringify({
      ...{ format: "keyside.curves", version: 1, shot: { frameRate: 24 }, nodes: [{ id: "post" }] },
      curves: [
        {
          node: "post",
          channel: "translation.y",
          keys: Array.from({ length: 24 }, (_, i) => [i + 1, i === 12 ? 9 : i / 10]),
        },
      ],
    }),
  );
  if (shot === null) throw new Error("The shot can be judged.");
  const good = {
    ...{ node: 0, figure: -1, from: 3, to: 5, excess: 2, size: 0.1, fault: null },
    measured: { quantity: "slack", value: 2, unit: "m" },
    expected: { max: 1, unit: "m", source: "tests" },
  };
  const run = (find: () => unknown, word: () => unknown = () => ({ message: "slack", suggestion: "" })) => {
    const check = foreignCheck({ ...sound, find, word } as unknown as Check);
    return studyOf(shot, resolveSettings([...registry, check]));
  };
  const plain = notesOf(studyOf(shot, resolveSettings(registry)));

  test("is a note like any other", () => {
    const notes = notesOf(run(() => [good]));
    expect(notes.find(({ check }) => check === sound.name)).toMatchObject({
      ...{ node: "post", frames: [4, 6], message: "slack" },
      measured: good.measured,
    });
    expect(failuresOf(run(() => [good]))).toEqual([]);
  });

  test.each<[string, () => unknown, string]>([
    [
      "throws",
      () => {
        throw new Error("no lace");
      },
      "no lace",
    ],
    ["no list", () => ({}), "find gave no list of findings"],
    ["a promise", async () => [good], "find gave no list of findings"],
    ["no finding", () => [null], "find, finding 0: object is wanted"],
    [
      "a number that is none",
      () => [good, { ...good, excess: Number.NaN }],
      "find, finding 1: excess: number is wanted",
    ],
    [
      "nothing measured",
      () => [{ ...good, measured: undefined }],
      "find, finding 0: measured: it is missing",
    ],
    ["a node that there is not", () => [{ ...good, node: 4 }], "find, finding 0: node: there are 1 nodes"],
    [
      "a figure that there is not",
      () => [{ ...good, figure: 0 }],
      "find, finding 0: figure: there are 0 figures",
    ],
    [
      "samples past the end",
      () => [{ ...good, to: 24 }],
      "find, finding 0: from, to: they are indices of samples, of which there are 24",
    ],
    [
      "a fault past the end",
      () => [
        {
          ...good,
          fault: { kind: "position", subject: 0, lo: 0, hi: 30, from: 0, to: 1, strength: () => 1 },
        },
      ],
      "find, finding 0: fault: lo to hi and from to are indices of samples, of which there are 24",
    ],
  ])("%s: fails alone", (_, find, message) => {
    const study = run(find);
    expect(notesOf(study)).toEqual(plain);
    expect(plain.length).toBeGreaterThan(0);
    expect(failuresOf(study)).toEqual([{ check: sound.name, subject: "post", others: 0, message }]);
  });

  test("words that are none fail alone too", () => {
    const study = run(
      () => [good as unknown as Finding],
      () => ({ message: "" }),
    );
    expect(notesOf(study)).toEqual(plain);
    expect(failuresOf(study)[0]?.message).toBe("word: message: it is empty");
  });
});
