import { readFile } from "node:fs/promises";
import { afterAll, beforeAll, expect, test } from "vitest";
import { readCsv } from "../../../packages/adapters/csv/index.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { Workshop } from "./run-in-process.ts";
import { bvh, cleanDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("capture.bvh", bvh(["0 90 0 0 0 0 0 0 0", "1 91 2 3 4 5 6 7 8", "2 92 4 6 8 10 12 14 16"]));
});
afterAll(() => shop.close());

test("BVH becomes a curve document that reads without a problem", async () => {
  const { code, stdout } = await shop.run(["convert", "capture.bvh", "capture.curves.json"]);
  expect({ code, stdout }).toEqual({ code: 0, stdout: "Wrote capture.curves.json.\n" });
  const { shot, problems } = readShot(await readFile(shop.path("capture.curves.json"), "utf8"));
  expect(problems).toEqual([]);
  expect(shot?.header.nodes.map((node) => node.id).slice(0, 2)).toEqual(["hips", "chest"]);
  const curve = shot?.curves.find(({ node, channel }) => node === "chest" && channel === "rotation.z");
  expect([...(curve?.values ?? [])]).toEqual([0, 6, 12]);
});

test("minus zero, which means nothing in a shot, becomes 0", async () => {
  const rows = ["-0 90 -0.0 -0.000 0 0 0 0 0", "1 91 2 3 4 5 6 7 8", "2 92 -0 -0 8 10 12 -0 16"];
  await shop.put("signed.bvh", bvh(rows).replace("OFFSET 0 ", "OFFSET -0.00 "));
  for (const more of [[], ["--rate", "13"]]) {
    expect((await shop.run(["convert", "signed.bvh", "plain.curves.json", "--force", ...more])).code).toBe(0);
    const text = await readFile(shop.path("plain.curves.json"), "utf8");
    expect(text).not.toMatch(/-0[\],\s]/);
  }
  await shop.put("signed.csv", "frame@24,node,channel,value\n1,a,translation.x,-0\n5,a,translation.x,-0.0\n");
  expect((await shop.run(["convert", "signed.csv", "table.curves.json"])).code).toBe(0);
  expect(await readFile(shop.path("table.curves.json"), "utf8")).toContain("[1, 0]");
});

test("a table is read back as it was; safe cells are no formulas", async () => {
  const table = "frame@24,node,channel,value\n1,=cmd(),translation.x,-1\n5,=cmd(),translation.x,2\n";
  await shop.put("names.csv", table);
  expect((await shop.run(["convert", "names.csv", "same.csv"])).code).toBe(0);
  const same = await readFile(shop.path("same.csv"), "utf8");
  expect(readCsv(same).shot?.curves).toMatchObject([{ node: "=cmd()", channel: "translation.x" }]);
  expect((await shop.run(["convert", "names.csv", "safe.csv", "--safe-cells"])).code).toBe(0);
  const safe = await readFile(shop.path("safe.csv"), "utf8");
  expect(safe).toBe(same.replaceAll("=cmd()", "'=cmd()"));
  const wrong = await shop.run(["convert", "names.csv", "names.curves.json", "--safe-cells"]);
  expect(wrong).toMatchObject({
    code: 2,
    stderr: "keyside: --safe-cells is for tables; name the output *.csv.\n",
  });
});

test("an output that is there stays, unless it is to be overwritten", async () => {
  await shop.put("mine.curves.json", "mine");
  const refused = await shop.run(["convert", "capture.bvh", "mine.curves.json"]);
  expect(refused.code).toBe(2);
  expect(refused.stderr).toBe("keyside: mine.curves.json is there already; --force overwrites it.\n");
  expect(await readFile(shop.path("mine.curves.json"), "utf8")).toBe("mine");
  expect((await shop.run(["convert", "capture.bvh", "mine.curves.json", "--force"])).code).toBe(0);
});

test("a shot is not written over itself", async () => {
  await shop.put("self.curves.json", cleanDocument());
  const { code, stderr } = await shop.run(["convert", "self.curves.json", "./self.curves.json", "--force"]);
  expect(code).toBe(2);
  expect(stderr).toContain("the same file");
});

test("an input that cannot be read is exit code 3, and nothing is written", async () => {
  const { code, stderr } = await shop.run(["convert", "nowhere.bvh", "new.curves.json"]);
  expect(code).toBe(3);
  expect(stderr).toBe("keyside: nowhere.bvh: There is no such file or folder.\n");
  await expect(readFile(shop.path("new.curves.json"))).rejects.toThrow("ENOENT");
});
