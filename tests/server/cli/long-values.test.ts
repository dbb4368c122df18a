import { afterAll, beforeAll, expect, test } from "vitest";
import { shortMessage } from "../../../packages/core/base/short-message.ts";
import { Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

/** A value as long as a file that is no text of ours may have it. */
const long = "x".repeat(200_000);

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("pop.curves.json", poppingDocument());
  await shop.put("text.curves.json", long);
  await shop.put("format.curves.json", { format: long, version: 1 });
  await shop.put("member.curves.json", { ...poppingDocument(), [long]: 1 });
  await shop.put("column.csv", `frame,${long}\n1,2\n${long},3\n`);
  await shop.put("cells.csv", `frame,node,channel,value\n1,a,${long},1\n2,a,translation.x,${long}\n`);
  await shop.put("line.bvh", long);
  await shop.put(
    "channel.bvh",
    `HIERARCHY\nROOT a\n{\n OFFSET 0 0 0\n CHANNELS 1 ${long}\n}\nMOTION\nFrames: 1\nFrame Time: 1\n${long}\n`,
  );
  await shop.put("version.gltf", { asset: { version: long } });
});
afterAll(() => shop.close());

test("a value of 200 kB is told of in short, in every format", async () => {
  for (const format of ["text", "json", "jsonl", "sarif", "junit", "html"]) {
    const argv = ["check", "*.csv", "*.bvh", "*.gltf", "[tfm]*.curves.json", "--no-cache"];
    const { stdout, stderr } = await shop.run([...argv, "--format", format]);
    expect(stderr).toContain("line.bvh");
    for (const line of stderr.split("\n")) expect(line.length).toBeLessThan(1100);
    expect(/x{2000}/.test(stdout), format).toBe(false);
  }
});

test("so is one in a configuration, in waivers and on the command line", async () => {
  await shop.put("c.json", { [long]: 1, style: long, checks: { [long]: 1, pop: { floor: long } } });
  await shop.put("pop.waivers.json", { format: "keyside.waivers", version: 1, waivers: [{ [long]: 1 }] });
  for (const argv of [
    ["check", "pop.curves.json", "--config", "c.json"],
    ["check", "pop.curves.json", "--no-cache", "--format", "json"],
    ["check", long],
    ["check", "pop.curves.json", "--only", long],
    ["check", "pop.curves.json", "--set", long],
    ["check", "pop.curves.json", "--why-silent", `${long}:a:1`],
    [long],
  ]) {
    const { code, stdout, stderr } = await shop.run(argv);
    expect(code).toBeGreaterThan(1);
    expect(stdout.length + stderr.length, argv.join(" ").slice(0, 80)).toBeLessThan(4000);
  }
});

test("what is left out is told, and no letter is cut in two", () => {
  const message = `"${"😀".repeat(1000)}" is none; take another.`;
  const short = shortMessage(message);
  expect(short).toMatch(/^"😀+… \(\d+ characters left out\) …😀+" is none; take another\.$/u);
  expect(shortMessage(short)).toBe(short);
});
