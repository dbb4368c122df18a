import { expect, test } from "vitest";
import { agreeing } from "../../../packages/core/notes/agree.ts";

test.each([
  ["hips stops in 1 frame from 1.9 m/s", "hips stop in 1 frame from 1.9 m/s"],
  [
    "left fingers leaves its path by 2 cm and comes back",
    "left fingers leave their path by 2 cm and come back",
  ],
  ["hips goes out and comes back", "hips go out and come back"],
  ["ears is stiff", "ears are stiff"],
  ["hips reaches its speed at once", "hips reach their speed at once"],
  ["right toes turns off its course", "right toes turn off their course"],
  ["left finger (index_1_l) leaves its path", "left finger (index_1_l) leaves its path"],
  ["left hand stops at once", "left hand stops at once"],
  ["hips, chest and head turn 25° as one piece", "hips, chest and head turn 25° as one piece"],
  ["hips: 3 keys all hold the same value", "hips: 3 keys all hold the same value"],
])("%s", (sentence, said) => expect(agreeing(sentence)).toBe(said));
