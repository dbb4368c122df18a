import { expect, test } from "vitest";
import { blockMoveExamples } from "../../../../packages/core/faults/parts/block-move/examples.ts";
import { loneJointExamples } from "../../../../packages/core/faults/parts/lone-joint/examples.ts";
import type { FaultExamples } from "../../../../packages/core/faults/shared/examples/example.ts";
import { notesOfCheck } from "../../../support/shots.ts";

const wordsOf = ({ check, faulty }: FaultExamples, example = 0) => {
  const [note] = notesOfCheck(faulty[example].motion(), check);
  return `${note.message}; ${note.suggestion}`;
};

test.each([
  [blockMoveExamples, "hips, chest and head turn 59° as one piece in frames 12 to 28: only 1° of bending"],
  [loneJointExamples, "turns 50° alone in frames 10 to 20; neck and chest answer with 1°"],
])("$check says how far the parts move", (examples, words) => {
  expect(wordsOf(examples)).toContain(words);
});
