import { expect, test } from "vitest";
import { shotMeasure } from "../../../packages/core/base/study.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { Check } from "../../../packages/core/faults/check.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { failuresOf, notesOf } from "../../../packages/core/notes/found.ts";
import { worldOf } from "../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { ShotSession } from "../../../packages/core/session/shot-session.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import type { OwnCheck } from "../../../packages/core/settings/settings.ts";
import { settingsOf, studyOf } from "../../../packages/core/settings/study.ts";
import { chainDocument, eased, everyFrame } from "../../support/shots.ts";

const { shot: popped } = shotOf(
  chainDocument(3, {
    "joint_1 rotation.z": everyFrame(1, 48, (frame) => eased(4, 44, 0, 60)(frame) + (frame === 26 ? 8 : 0)),
  }),
);
if (popped === null) throw new Error("the document cannot be used");

/** Fails while the tip stands to the left of the first joint at frame 10, in a measure of its own. */
const broken = shotMeasure<number>("broken", (study) => {
  const at = (node: number) => worldOf(study, node).position[3 * 9];
  if (at(rigOf(study).count - 1) > at(1)) throw new Error("no bone of that name");
  return 0;
});

function throwing(scope: Check["scope"], find: Check["find"]): Check & OwnCheck {
  const [model] = registry;
  return { ...model, name: `throws-on-${scope}`, scope, tier: model.ceiling, settings: {}, find };
}

function settingsWith(own: readonly OwnCheck[]) {
  const settings = resolveSettings(registry);
  const checks = new Map(settings.checks);
  for (const { name } of own) checks.set(name, { on: true, ceiling: "major", values: {} });
  return { ...settings, checks, own };
}

const boom = () => {
  throw new Error("boom");
};

test.each(["curve", "node", "figure", "shot"] as const)(
  "a check that throws on a %s fails alone: every other note stands, and it is told once",
  (scope) => {
    const clean = notesOf(studyOf(popped, resolveSettings(registry)));
    expect(clean.length).toBeGreaterThan(0);
    const study = studyOf(popped, settingsWith([throwing(scope, boom)]));
    expect(notesOf(study)).toStrictEqual(clean);
    const failures = failuresOf(study);
    expect(failures).toHaveLength(scope === "figure" ? failures.length : 1);
    for (const failure of failures)
      expect(failure).toMatchObject({ check: `throws-on-${scope}`, message: "boom" });
    if (scope === "node") expect(failures[0]).toMatchObject({ subject: "mount", others: 4 });
  },
);

test("a number beyond all numbers is no note: it is told as a failure, and what can be told stands", () => {
  const [model] = registry;
  const finding = (value: number) => ({
    node: 1,
    figure: -1,
    from: 3,
    to: 4,
    measured: { quantity: "way off", value, unit: "m" as const },
    expected: { max: 1, unit: "m" as const, source: "this test" },
    excess: 2,
    size: 1,
    fault: null,
  });
  const find = () => [finding(Number.POSITIVE_INFINITY), finding(2)];
  const word = () => ({ message: "is far off", suggestion: "bring it back" });
  const check = { ...throwing("shot", find), name: "far-off", word } as unknown as typeof model & OwnCheck;
  const study = studyOf(popped, settingsWith([check]));
  expect(notesOf(study).filter((note) => note.check === "far-off")).toHaveLength(1);
  expect(failuresOf(study)).toMatchObject([{ check: "far-off", subject: null, others: 0 }]);
});

test("what is thrown need not be an error", () => {
  const study = studyOf(
    popped,
    settingsWith([
      throwing("shot", () => {
        throw "a word";
      }),
    ]),
  );
  expect(failuresOf(study)).toEqual([
    { check: "throws-on-shot", subject: null, others: 0, message: "a word" },
  ]);
});

test("a failure in a measure goes when the shot is edited so that it can be computed, and comes back", () => {
  const own = throwing("shot", (study) => new Array<never>(broken(study)));
  const session = new ShotSession(popped, settingsWith([own]));
  const failed = () => session.failures.map(({ message }) => message);
  expect(failed()).toEqual(["no bone of that name"]);
  const turn = (value: number) =>
    session.edit(
      Array.from({ length: 48 }, (_, i) => ({
        kind: "set" as const,
        node: "joint_1",
        channel: "rotation.z" as const,
        frame: i + 1,
        value,
      })),
    );
  expect(turn(-170).problems).toEqual([]);
  expect(failed()).toEqual([]);
  turn(30);
  expect(failed()).toEqual(["no bone of that name"]);
  expect(session.notes).toStrictEqual(notesOf(studyOf(session.shot, settingsOf(session.study))));
});
