import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type KeyEdit, tryEditShot } from "../../../packages/core/document/edit.ts";
import { applyKeyEdits } from "../../../packages/core/document/edit-text.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { writeDocument } from "../../../packages/core/document/write.ts";
import { keyChanges } from "../../../packages/core/session/changes.ts";
import { changedLines, fixedText } from "../../../packages/core/session/fixed-text.ts";
import { chainDocument } from "../../support/shots.ts";

const text = writeDocument(
  chainDocument(2, {
    "joint_1 rotation.z": [
      [1, 0],
      [8, 20, { in: [3, 20], out: [3, 20] }],
      [20, 0],
    ],
    "joint_2 rotation.z": [
      [1, 5],
      [9, 5],
      [20, -5],
    ],
    "joint_2 rotation.x": [[1, 0]],
  }),
);

function shotIn(source: string): Shot {
  const { shot, problems } = readShot(source);
  if (shot === null) throw new Error(JSON.stringify(problems));
  return shot;
}

const shot = shotIn(text);

/** Text with patches made in it. */
function patched(source: string, patches: readonly { start: number; end: number; text: string }[]): string {
  return [...patches]
    .sort((a, b) => b.start - a.start)
    .reduce((result, patch) => result.slice(0, patch.start) + patch.text + result.slice(patch.end), source);
}

const edit = fc.record({
  kind: fc.constantFrom("set" as const, "remove" as const),
  node: fc.constantFrom("joint_1", "joint_2"),
  channel: fc.constantFrom("rotation.x" as const, "rotation.z" as const, "rotation.y" as const),
  frame: fc.integer({ min: 1, max: 20 }),
  value: fc.integer({ min: -90, max: 90 }),
});

describe("the text of a fixed document", () => {
  const steps: { edits: KeyEdit[] }[] = [
    {
      edits: [
        { kind: "set", node: "joint_1", channel: "rotation.z", frame: 8, value: 18 },
        { kind: "move", node: "joint_2", channel: "rotation.z", frame: 9, toFrame: 10 },
      ],
    },
    { edits: [{ kind: "set", node: "joint_2", channel: "rotation.z", frame: 10, value: 6 }] },
  ];

  test("has the fixes, one after another, and all other lines as they were", () => {
    const fixed = fixedText(text, shot, steps);
    const expected = steps.reduce((before, { edits }) => tryEditShot(before, edits).shot, shot);
    const read = shotIn(fixed);
    expect(read.curves.map(({ frames, values }) => [[...frames], [...values]])).toEqual(
      expected.curves.map(({ frames, values }) => [[...frames], [...values]]),
    );
    const [before, after] = [text.split("\n"), fixed.split("\n")];
    expect(after).toHaveLength(before.length);
    expect(before.filter((line, at) => line !== after[at])).toHaveLength(2);
  });

  test("differs from the old one in the lines that are told, whatever is edited", () => {
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
        if (tryEditShot(shot, edits).problems.length > 0) return;
        const after = applyKeyEdits(text, shot, edits);
        expect(patched(text, changedLines(text, shot, after))).toBe(after);
      }),
      { numRuns: 300 },
    );
  });

  test("patches cover no line that stays", () => {
    const after = fixedText(text, shot, steps);
    const patches = changedLines(text, shot, after);
    expect(patches).toHaveLength(2);
    for (const { start, end } of patches) expect(text.slice(start, end).split("\n")).toHaveLength(2);
  });
});

describe("the changes of keys", () => {
  const told = (edits: KeyEdit[]) => keyChanges(shot, tryEditShot(shot, edits).shot, edits);

  test("show each key before and after, in the order of curves and of time", () => {
    const changes = told([
      { kind: "remove", node: "joint_2", channel: "rotation.z", frame: 9 },
      { kind: "set", node: "joint_1", channel: "rotation.z", frame: 14, value: 9 },
      { kind: "set", node: "joint_1", channel: "rotation.z", frame: 8, value: 21 },
    ]);
    expect(changes).toMatchObject([
      {
        node: "joint_1",
        before: { frame: 8, value: 20, in: [3, 20], out: [3, 20] },
        after: { frame: 8, value: 21 },
      },
      { node: "joint_1", before: null, after: { frame: 14, value: 9 } },
      { node: "joint_2", before: { frame: 9, value: 5 }, after: null },
    ]);
  });

  test("follow a key that moves", () => {
    const [change] = told([{ kind: "move", node: "joint_2", channel: "rotation.z", frame: 9, toFrame: 12 }]);
    expect(change).toMatchObject({ before: { frame: 9, value: 5 }, after: { frame: 12, value: 5 } });
  });

  test("leave out keys that end as they were", () => {
    expect(told([{ kind: "set", node: "joint_2", channel: "rotation.z", frame: 9, value: 5 }])).toEqual([]);
  });
});
