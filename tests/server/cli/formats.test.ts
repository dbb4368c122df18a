import { execFileSync } from "node:child_process";
import { mkdir, readFile, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import validator from "gltf-validator";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { adapters, readBytes } from "../../../packages/adapters/index.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import { GltfFile } from "../../adapters/gltf/gltf-file.ts";
import { worldDistance } from "../../support/world-distance.ts";
import { foreignAdapter } from "./plugins-for-tests.ts";
import { Workshop } from "./run-in-process.ts";
import { bvh, cleanDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("ball.curves.json", cleanDocument());
});
afterAll(() => shop.close());

/** A ball that moves by several animations, each to its own height. */
function several(...names: readonly (string | undefined)[]): GltfFile {
  const file = new GltfFile();
  const input = file.floats("SCALAR", [0, 0.5, 1]);
  Object.assign(file.document, {
    nodes: [{ name: "ball" }],
    scenes: [{ nodes: [0] }],
    animations: names.map((name, i) => ({
      ...(name === undefined ? {} : { name }),
      channels: [{ sampler: 0, target: { node: 0, path: "translation" } }],
      samplers: [{ input, output: file.floats("VEC3", [0, 0, 0, 0, i + 1, 0, 0, i + 2, 0]) }],
    })),
  });
  return file;
}

/** The same with its buffer in a file beside it. */
function external(file: GltfFile, uri: string): { readonly text: string; readonly bytes: Uint8Array } {
  const document = JSON.parse(file.text());
  const bytes = Buffer.from(document.buffers[0].uri.replace(/^.*base64,/, ""), "base64");
  document.buffers[0].uri = uri;
  return { text: JSON.stringify(document), bytes };
}

async function shotAt(name: string): Promise<Shot> {
  const adapter = adapters.find(({ endings }) => endings.some((ending) => name.endsWith(ending)));
  const beside = join(shop.folder, name.replace(/\.csv$/, ".nodes.csv"));
  const nodes = name.endsWith(".csv") ? await readFile(beside) : new Uint8Array();
  const bytes = await readFile(shop.path(name));
  const told = { file: name, ...(name.endsWith(".bvh") ? { metresPerUnit: 0.01 } : {}) };
  return readBytes(adapter as (typeof adapters)[number], bytes, () => nodes, told).shot as Shot;
}

describe("keyside formats", () => {
  test("lists each format, what is done with it, and what it cannot carry", async () => {
    const { code, stdout, stderr } = await shop.run(["formats"]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    for (const { name, endings, cannotCarry } of adapters) {
      expect(stdout).toMatch(new RegExp(`^${name} .*${endings[0].replaceAll(".", "\\.")}.*yes +yes$`, "m"));
      if (cannotCarry.length > 0) expect(stdout).toContain(`${name} cannot carry\n`);
    }
    const asData = JSON.parse((await shop.run(["formats", "--format", "json"])).stdout);
    expect(asData.map(({ name }: { name: string }) => name)).toEqual(["curves", "bvh", "gltf", "csv"]);
    expect(asData[2]).toMatchObject({ endings: [".gltf", ".glb"], read: true, written: true });
  });

  test("has a studio's own, which reads, writes, and is known by its bytes", async () => {
    const elsewhere = await Workshop.open();
    await elsewhere.put("keyside.config.json", { plugins: ["./odd.mjs"] });
    const own = foreignAdapter({
      detect: "(head) => head[0] === 7",
      isBinary: "true",
      read: `(bytes, resolve) => keyside.shotOf({ format: "keyside.curves", version: 1, shot: { frameRate: 24 },
        nodes: [{ id: "ball" }], curves: [{ node: "ball", channel: "translation.y",
        keys: [...bytes.subarray(1), ...resolve("more.bin")].map((height, i) => [i + 1, height]) }] })`,
      needs: '() => ["more.bin"]',
      write: `(shot, { file }) => ({ files: [{ name: file, content: Uint8Array.of(7, ...shot.curves[0].values) }], lost: ["All else."] })`,
      cannotCarry: '["more than one ball"]',
    });
    await elsewhere.put("odd.mjs", `export default (keyside) => ({ adapters: [${own}] });`);
    await elsewhere.put("ball.odd", Uint8Array.of(7, 1, 0, 1));
    await elsewhere.put("unnamed.dat", Uint8Array.of(7, 1, 0, 1));
    await elsewhere.put("more.bin", Uint8Array.of(2, 3));
    const listed = await elsewhere.run(["formats"]);
    expect(listed.stdout).toMatch(/^odd +Odd +\.odd +yes +yes$/m);
    expect(listed.stdout).toContain(`odd comes from ${elsewhere.path("odd.mjs")}`);
    const json = async (file: string) => {
      const { stdout, stderr } = await elsewhere.run(["check", file, "--no-cache", "--format", "json"]);
      expect(stderr).toBe("");
      return JSON.parse(stdout).shots[0];
    };
    expect((await json("ball.odd")).range).toEqual([1, 5]);
    expect((await json("unnamed.dat")).range).toEqual([1, 5]);
    expect(await elsewhere.run(["convert", "ball.odd", "ball.curves.json"])).toMatchObject({ code: 0 });
    const back = await elsewhere.run(["convert", "ball.curves.json", "again.odd"]);
    expect(back).toMatchObject({ code: 0, stderr: "keyside: again.odd: All else.\n" });
    expect([...(await readFile(elsewhere.path("again.odd")))]).toEqual([7, 1, 0, 1, 2, 3]);
    await elsewhere.close();
  });
});

describe("keyside convert", () => {
  const endings = [".curves.json", ".bvh", ".gltf", ".glb", ".csv"];

  test("turns each format into each other, within 1e-5 m", async () => {
    const original = await shotAt("ball.curves.json");
    for (const ending of endings) {
      const first = `made${ending}`;
      const made = await shop.run(["convert", "ball.curves.json", first, "--force"]);
      expect(made.code, made.stderr).toBe(0);
      expect(worldDistance(original, await shotAt(first)), first).toBeLessThan(1e-5);
      for (const other of endings) {
        const second = `made${ending}-again${other}`;
        const { code, stderr } = await shop.run(["convert", first, second, "--force"]);
        expect(code, `${second}: ${stderr}`).toBe(0);
        // BVH does not say its unit, so that what is made of it is of that unit only by its name.
        if (ending === ".bvh") continue;
        expect(worldDistance(original, await shotAt(second)), second).toBeLessThan(1e-5);
      }
    }
    const { issues } = await validator.validateBytes(new Uint8Array(await readFile(shop.path("made.glb"))));
    expect(issues.messages.filter(({ severity }) => severity < 2)).toEqual([]);
  });

  test("writes a table and its table of nodes, both or none", async () => {
    expect(await shop.run(["convert", "ball.curves.json", "table.csv"])).toMatchObject({
      code: 0,
      stdout: "Wrote table.csv and table.nodes.csv.\n",
    });
    await writeFile(shop.path("half.nodes.csv"), "mine");
    const refused = await shop.run(["convert", "ball.curves.json", "half.csv"]);
    expect(refused).toMatchObject({
      code: 2,
      stderr: "keyside: half.nodes.csv is there already; --force overwrites it.\n",
    });
    await expect(readFile(shop.path("half.csv"))).rejects.toThrow("ENOENT");
    expect(await readFile(shop.path("half.nodes.csv"), "utf8")).toBe("mine");
    const comma = ["convert", "ball.curves.json", "comma.csv", "--decimal-comma", "--layout", "wide"];
    expect((await shop.run(comma)).code).toBe(0);
    expect(await readFile(shop.path("comma.csv"), "utf8")).toMatch(
      /^frame@24;[^,\n]*\r\n1;0\r\n2;\d,\d+\r\n/,
    );
    const wrong = await shop.run(["convert", "ball.curves.json", "b.bvh", "--decimal-comma"]);
    expect(wrong).toMatchObject({
      code: 2,
      stderr: "keyside: --decimal-comma is for tables; name the output *.csv.\n",
    });
  });

  test("a table of nodes is no shot, and no report is written over it", async () => {
    const folder = await shop.run(["check", "table.nodes.csv", "--no-cache"]);
    expect(folder.code).toBe(3);
    expect(folder.stderr).toContain("This stands beside a shot and is none itself; name the shot.");
    await mkdir(shop.path("tables"), { recursive: true });
    for (const name of ["table.csv", "table.nodes.csv"]) {
      await writeFile(shop.path(`tables/${name}`), await readFile(shop.path(name)));
    }
    const all = JSON.parse((await shop.run(["check", "tables", "--no-cache", "--format", "json"])).stdout);
    expect(all.shots.map(({ file }: { file: string }) => file)).toEqual(["tables/table.csv"]);
    const over = await shop.run([
      "check",
      "ball.curves.json",
      "--no-cache",
      "--out",
      "table.nodes.csv",
      "--force",
    ]);
    expect(over.code).toBe(2);
  });

  test("a table of remarks may lie among the shots", async () => {
    await mkdir(shop.path("reviewed"), { recursive: true });
    await writeFile(shop.path("reviewed/ball.curves.json"), await readFile(shop.path("ball.curves.json")));
    await writeFile(shop.path("reviewed/ball.remarks.csv"), "id,kind,text\n,remark,Softer.\n");
    const { stdout } = await shop.run(["check", "reviewed", "--no-cache", "--format", "json"]);
    const { shots } = JSON.parse(stdout);
    expect(shots.map(({ file }: { file: string }) => file)).toEqual(["reviewed/ball.curves.json"]);
  });

  test("its help names the formats, and every option has an example or words", async () => {
    const { stdout } = await shop.run(["convert", "--help"]);
    for (const word of [
      "--animation",
      "--bake",
      "--layout",
      "--decimal-comma",
      "*.nodes.csv",
      "keyside formats",
    ]) {
      expect(stdout).toContain(word);
    }
  });
});

describe("glTF by command", () => {
  const judged = async (...argv: string[]) => {
    const { code, stdout, stderr } = await shop.run(["check", ...argv, "--no-cache", "--format", "json"]);
    return { code, stderr, report: JSON.parse(stdout) };
  };

  test("what is legal and not judged is a remark, and exit 0, whatever fails", async () => {
    await shop.put("still.gltf", { asset: { version: "2.0" }, nodes: [{ name: "a" }] });
    await shop.put("bare.gltf", { asset: { version: "2.0" } });
    const morph = JSON.parse(several("m").text());
    morph.animations[0].channels[0].target.path = "weights";
    await shop.put("morph.gltf", morph);
    for (const [file, remark] of [
      ["still.gltf", /no animation/],
      ["bare.gltf", /no nodes/],
      ["morph.gltf", /Weights of morph targets are not judged/],
    ] as const) {
      const { code, report } = await judged(file, "--fail-on", "polish");
      expect({ code, notes: report.shots[0].notes }, file).toEqual({ code: 0, notes: [] });
      expect(report.shots[0].inferred.join(" ")).toMatch(remark);
      expect((await shop.run(["check", file, "--no-cache"])).stdout).toMatch(remark);
    }
  });

  test("bytes and text, with buffers inside and beside, are the same shot", async () => {
    const file = several("Walk");
    await shop.put("inside.gltf", file.text());
    await shop.put("whole.glb", file.binary());
    await shop.put("misnamed.gltf", file.binary());
    await mkdir(shop.path("data"), { recursive: true });
    const { text, bytes } = external(file, "data/walk%20cycle.bin");
    await shop.put("beside.gltf", text);
    await shop.put("data/walk cycle.bin", bytes);
    const reports = [];
    for (const name of ["inside.gltf", "whole.glb", "misnamed.gltf", "beside.gltf"]) {
      const { code, report } = await judged(name);
      const { file: _file, name: _name, ...rest } = report.shots[0];
      expect(code).toBeLessThan(2);
      expect(rest.range).toEqual([0, 24]);
      reports.push(rest);
    }
    for (const other of reports) expect(other).toEqual(reports[0]);
  });

  test("a binary file comes over stdin too", async () => {
    const bytes = several("Walk").binary();
    const argv = ["check", "-", "--stdin-filename", "x.glb", "--no-cache", "--format", "json"];
    const { stdout } = await shop.run(argv, { stdin: async () => bytes });
    expect(JSON.parse(stdout).shots[0]).toMatchObject({ file: "x.glb", range: [0, 24] });
  });

  test("--animation takes one by name or number, or each", async () => {
    await shop.put("crowd.glb", several("Walk", "Run", undefined).binary());
    const first = await judged("crowd.glb");
    expect(first.report.shots[0].inferred.join()).toMatch(
      /The file has 3 animations, and the first, "Walk", is judged/,
    );
    const all = await judged("crowd.glb", "ball.curves.json", "--animation", "all");
    expect(all.report.shots.map(({ file, name }: { file: string; name: string }) => [file, name])).toEqual([
      ["ball.curves.json", expect.any(String)],
      ["crowd.glb#Run", "crowd Run"],
      ["crowd.glb#Walk", "crowd Walk"],
      ["crowd.glb#animation_2", "crowd animation_2"],
    ]);
    for (const asked of ["Run", "1"]) {
      expect(
        (await shop.run(["convert", "crowd.glb", "run.csv", "--animation", asked, "--force"])).code,
      ).toBe(0);
      expect(await readFile(shop.path("run.csv"), "utf8")).toMatch(/12,ball,translation\.y,2,/);
    }
    const wrong = await shop.run(["check", "crowd.glb", "--animation", "Swim", "--no-cache"]);
    expect(wrong.code).toBe(3);
    expect(wrong.stderr).toContain('The file has no animation "Swim"; it has "Walk", "Run", "animation_2".');
    const each = await shop.run(["convert", "crowd.glb", "each.curves.json", "--animation", "all"]);
    expect(each.code).toBe(0);
    expect(each.stdout).toBe(
      "Wrote each.Walk.curves.json.\nWrote each.Run.curves.json.\nWrote each.animation_2.curves.json.\n",
    );
  });

  test("kept results know what stands beside, and which animation is meant", async () => {
    const file = several("Walk", "Run");
    const { text, bytes } = external(file, "moves.bin");
    await shop.put("kept.gltf", text);
    await shop.put("moves.bin", bytes);
    const run = async (...more: string[]) =>
      JSON.parse(
        (await shop.run(["check", "kept.gltf", "--cache", "kept", "--format", "json", ...more])).stdout,
      ).shots[0].range[1];
    expect(await run()).toBe(24);
    const longer = Buffer.from(bytes);
    longer.writeFloatLE(2, 8);
    await shop.put("moves.bin", longer);
    expect(await run()).toBe(48);
    expect(await run("--animation", "Run")).toBe(48);
  });
});

describe("names of a stranger's file lead nowhere else", () => {
  test.each([
    "../secret.bin",
    "%2e%2e/secret.bin",
    "..%2Fsecret.bin",
    "data/../../secret.bin",
    "file:///etc/passwd",
    "/etc/passwd",
    "%2Fetc%2Fpasswd",
    "https://example.com/a.bin",
    "//example.com/a.bin",
    "C:\\secret.bin",
    "..\\secret.bin",
    "link.bin",
    "linked/secret.bin",
    "a\u0000.bin",
    "",
  ])("%j", async (uri) => {
    await mkdir(shop.path("theirs/data"), { recursive: true });
    const { text, bytes } = external(several("a"), uri);
    await writeFile(shop.path("secret.bin"), bytes);
    await symlink(shop.path("secret.bin"), shop.path("theirs/link.bin")).catch(() => {});
    await symlink(shop.folder, shop.path("theirs/linked")).catch(() => {});
    await shop.put("theirs/a.gltf", text);
    const { code, stdout } = await shop.run(["check", "theirs/a.gltf", "--no-cache", "--format", "json"]);
    const [shot] = JSON.parse(stdout).shots;
    expect(code).toBe(1);
    const messages = shot.notes.map(({ message }: { message: string }) => message);
    expect(messages.join()).toContain("Only files in the folder of the shot, and below it, are read.");
  });

  test("a buffer beyond the budget, a pipe and a folder are refused with the reason", async () => {
    const { text, bytes } = external(several("a"), "large.bin");
    await shop.put("theirs/large.bin", Buffer.concat([bytes, Buffer.alloc(5000)]));
    await shop.put("theirs/large.gltf", text);
    const large = await shop.run(["check", "theirs/large.gltf", "--no-cache", "--budget", "file=4000"]);
    expect(large.stdout).toMatch(/at most\s+4/);
    await shop.put("theirs/folder.gltf", external(several("a"), "data").text);
    expect(
      (await shop.run(["check", "theirs/folder.gltf", "--no-cache"])).stdout.replace(/\s+/g, " "),
    ).toContain("This is a folder, not a file.");
    if (process.platform === "win32") return;
    execFileSync("mkfifo", [shop.path("theirs/pipe.bin")]);
    await shop.put("theirs/pipe.gltf", external(several("a"), "pipe.bin").text);
    expect((await shop.run(["check", "theirs/pipe.gltf", "--no-cache"])).stdout.replace(/\s+/g, " ")).toMatch(
      /This is (a pipe|no plain file|not a plain file)/i,
    );
  });
});

test("a file whose ending nobody knows is read by its bytes; one whose ending is wrong is told whose it looks like", async () => {
  const rows = ["0 90 0 0 0 0 0 0 0", "1 91 2 3 4 5 6 7 8"];
  await shop.put("motion.dat", bvh(rows));
  expect((await shop.run(["check", "motion.dat", "--no-cache"])).code).toBe(0);
  await shop.put("motion.csv", bvh(rows));
  const wrong = await shop.run(["check", "motion.csv", "--no-cache"]);
  expect(wrong.stderr).toContain("It looks like BVH; name it *.bvh.");
  await shop.put("motion.txt", "nothing of the kind");
  expect((await shop.run(["check", "motion.txt", "--no-cache"])).stderr).toContain(
    "Files of this kind are not read; shots are .curves.json, .bvh, .gltf, .glb, .csv.",
  );
});

test("a comparison and a sheet take one animation too", async () => {
  await shop.put("two.glb", several("Walk", "Run").binary());
  await shop.put("three.glb", several("Walk", "Run").binary());
  const compared = await shop.run(["compare", "two.glb", "three.glb", "--animation", "Run"]);
  expect(compared).toMatchObject({ code: 0, stderr: "" });
  const sheet = await shop.run([
    "sheet",
    "two.glb",
    "--animation",
    "Run",
    "--format",
    "markdown",
    "--no-fixes",
  ]);
  expect(sheet.code).toBe(0);
  for (const argv of [
    ["compare", "two.glb", "three.glb"],
    ["sheet", "two.glb"],
  ]) {
    expect((await shop.run([...argv, "--animation", "Swim"])).code).toBe(3);
  }
});
