import { expect, test } from "vitest";
import { counted } from "../../../packages/server/base/counted.ts";

test.each([
  [1, "fix", "1 fix"],
  [7, "fix", "7 fixes"],
  [0, "note", "0 notes"],
  [2, "known note", "2 known notes"],
])("%i × %s reads %s", (count, word, reads) => expect(counted(count, word)).toBe(reads));
