import fc from "fast-check";
import { expect, test } from "vitest";
import { curveName } from "../../../packages/core/document/inputs.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { notesInSteps, type Progress } from "../../../packages/core/notes/in-steps.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { eased, everyFrame, pointDocument } from "../../support/shots.ts";

const settings = resolveSettings(registry);
const names = ["a", "b", "c", "d"];

/** Points of which each hops once, at a frame of its own. */
const shot = (() => {
  const one = pointDocument({ "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) }, { range: [1, 40] });
  const move = eased(6, 30, 0, 1);
  const found = shotOf({
    ...one,
    nodes: names.map((id) => ({ id })),
    curves: names.map((node, index) => ({
      node,
      channel: "translation.x" as const,
      keys: everyFrame(1, 40, (frame) => move(frame) + (frame === 14 + 3 * index ? 0.4 : 0)),
    })),
  });
  if (found.shot === null) throw new Error("the document cannot be used");
  return found.shot;
})();
const touching = (nodes: readonly string[], frames: [number, number] = [1, 40]) => {
  return { curves: new Set(nodes.map((node) => curveName(node, "translation.x"))), frames };
};

test("whatever comes first, the notes are the same, and shares of the work only grow", () => {
  const whole = notesOf(studyOf(shot, settings));
  fc.assert(
    fc.property(fc.subarray([...names, "nobody"]), (first) => {
      const steps = notesInSteps(studyOf(shot, settings), touching(first));
      const shares: number[] = [];
      for (;;) {
        const { done, value } = steps.next();
        if (done === true) {
          expect(value).toEqual(whole);
          break;
        }
        shares.push(value.share);
      }
      expect(shares).toEqual([...shares].sort((a, b) => a - b));
      expect(shares[shares.length - 1]).toBe(1);
    }),
  );
});

test("what is found so far is of the nodes that come first, and is there after their own pieces of work", () => {
  const steps = notesInSteps(studyOf(shot, settings), touching(["c"]));
  // Its curve, then the node.
  steps.next();
  const { value } = steps.next();
  const found = (value as Progress).notes();
  expect(found.map(({ check }) => check)).toContain("pop");
  expect(new Set(found.map(({ node }) => node))).toEqual(new Set(["c"]));
  const nobody = notesInSteps(studyOf(shot, settings));
  let last: readonly unknown[] = [];
  for (const progress of nobody) last = progress.notes();
  expect(last).toEqual([]);
});

test("what lies beside the touched keys comes first", () => {
  // The points hop one after the other, at frames 14, 17, 20 and 23.
  const firstBeside = (frames: [number, number]) => {
    let found: readonly Note[] = [];
    for (const progress of notesInSteps(studyOf(shot, settings), touching(names, frames))) {
      found = progress.notes();
    }
    return found[0]?.node;
  };
  expect(firstBeside([14, 14])).toBe("a");
  expect(firstBeside([23, 23])).toBe("d");
});
