import { afterAll, beforeAll, expect, test } from "vitest";
import { questionFrom } from "../../../packages/server/cli/why-silent.ts";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

test("a node's id may have colons of its own", () => {
  expect(questionFrom("pop:porter:hips:-4.5")).toEqual({ check: "pop", node: "porter:hips", frame: -4.5 });
});

test.each(["pop", "pop:hips", "pop:hips:", "pop:hips:x", ":hips:4", "pop::4"])("%s is wrong use", (text) => {
  expect(() => questionFrom(text)).toThrow(/CHECK:NODE:FRAME.*hard-stop:hand_l:1042/);
});

test("it is asked of one shot by command, and told on standard output", async () => {
  await shop.put("popping.curves.json", poppingDocument());
  const said = await shop.run(["check", "popping.curves.json", "--why-silent", "pop:post:48"]);
  expect(said.code).toBe(0);
  expect(said.stdout).toMatch(/^It is said: a \w+ note at post, frames 48 to 48\.\n$/);
  const skipped = await shop.run([
    "check",
    "popping.curves.json",
    "--skip",
    "pop",
    "--why-silent",
    "pop:post:48",
  ]);
  expect(skipped.stdout).toMatch(/^pop is off/);
  const two = await shop.run([
    "check",
    "popping.curves.json",
    "b.curves.json",
    "--why-silent",
    "pop:post:48",
  ]);
  expect(two).toMatchObject({ code: 2, stdout: "" });
  expect(two.stderr).toContain("name one file");
});

test("a shot that cannot be read is told as by any other command", async () => {
  const gone = await shop.run(["check", "gone.curves.json", "--why-silent", "pop:post:48"]);
  expect(gone.code).toBe(3);
  expect(gone.stderr).toContain("gone.curves.json");
  await shop.put("clean.curves.json", cleanDocument());
  const clean = await shop.run(["check", "clean.curves.json", "--why-silent", "jitter:post:48"]);
  expect(clean.code).toBe(0);
  expect(clean.stdout).not.toBe("");
});
