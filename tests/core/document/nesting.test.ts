import { expect, test } from "vitest";
import { readShot } from "../../../packages/core/document/read.ts";

const head =
  '{"format":"keyside.curves","version":1,"shot":{"frameRate":24},"nodes":[{"id":"a"}],"curves":[{"node":"a","channel":"translation.x","keys":[';

/*
 * Reading takes as long as the text is: where everything is missing, what is looked ahead is bounded. Before it was, each
 * of these took minutes, and the time limit of a test ends what takes so long again.
 */
test.each([
  ["nodes", '{"nodes":[', "1 "],
  ["nodes", '{"nodes":[', "{"],
  ["nodes", '{"nodes":[', '"\n'],
  ["keys", head, "["],
  ["keys", head, "[1,2 "],
  ["keys", head, "1 "],
  ["a key", `${head}[1,2,`, "["],
  ["a curve", '{"curves":[{', "{"],
  ["a document", "", "{"],
  ["a document", "", '{"a":['],
])("a text of 50 kB in which %s never end: %s%s…", (_, before, repeated) => {
  const text = before + repeated.repeat(Math.ceil(50_000 / repeated.length));
  const { problems } = readShot(text);
  expect(problems.length).toBeGreaterThan(0);
  for (const { start, end } of problems) expect(start <= end && end <= text.length).toBe(true);
});
