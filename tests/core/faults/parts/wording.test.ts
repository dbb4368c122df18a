import { expect, test } from "vitest";
import { examples, type FaultExamples } from "../../../../packages/core/faults/examples.ts";
import { notesOfCheck } from "../../../support/shots.ts";

/** What is said of an example of a check: the first if none is given. */
function wordsOf(name: keyof typeof examples, example = 0): string {
  const { faulty } = examples[name] as FaultExamples;
  const [{ message, suggestion }] = notesOfCheck(faulty[example].motion(), name);
  return `${message}; ${suggestion}`;
}

test.each([
  ["block-move", 0, "turn 59° as one piece in frames 13 to 27 (15 frames): only 0.9° of bending"],
  ["competing-moves", 0, "two big moves compete at frames 28 to 29"],
  ["lone-joint", 0, "turns 50° alone in frames 10 to 20; neck and chest answer with 1°"],
  ["no-drag", 0, "does not turn against hips in frames 1 to 96, whatever hips does"],
  ["no-drag", 1, "moves together with tail (tail_1): it does not drag"],
  ["no-drag", 2, "is 3.1 frames ahead of hips: it does not drag"],
  ["no-drag", 3, "turns only 0.6° against head"],
  ["raised-shoulders", 0, "is held 4.8 cm over its rest"],
  ["still-fingers", 0, "takes the load at frame 30 and its fingers turn only 2°"],
  ["still-fingers", 1, "lets the load go at frame 30 and its fingers turn only 2°"],
  ["still-wrist", 0, "bending about 15° back and then over"],
  ["twinning", 0, "both arms make the same move in frames 13 to 31 (19 frames), "],
  ["twinning", 0, "2 frames later"],
] as const)("%s says of its example %i: %s", (name, example, words) => {
  expect(wordsOf(name, example)).toContain(words);
});
