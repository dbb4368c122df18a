import { execFileSync } from "node:child_process";
import { mkdir } from "node:fs/promises";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { bounds, FileRefusal } from "../../../packages/server/base/files/bounds.ts";
import { type Ran, Workshop } from "./run-in-process.ts";
import { bvh, cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await mkdir(shop.path("show/seq"), { recursive: true });
  await mkdir(shop.path("empty/seq"), { recursive: true });
  await shop.put("show/seq/pop.curves.json", poppingDocument());
  await shop.put("show/clean.curves.json", cleanDocument());
  await shop.put("show/readme.txt", "no shot");
  await shop.put("empty/seq/plate.exr", "no shot");
});
afterAll(() => shop.close());

const filesIn = ({ stdout }: Ran) => JSON.parse(stdout).shots.map(({ file }: { file: string }) => file);
const bytes = (data: unknown) =>
  new TextEncoder().encode(typeof data === "string" ? data : JSON.stringify(data));

describe("a shot from stdin", () => {
  const piped = (data: unknown, ...argv: string[]) =>
    shop.run(["check", "-", "--format", "json", ...argv], { stdin: async () => bytes(data) });

  test("is judged as a file of that name would be", async () => {
    const name = "show/seq/pop.curves.json";
    const fromFile = await shop.run(["check", name, "--format", "json"]);
    const fromStdin = await piped(poppingDocument(), "--stdin-filename", name);
    expect(fromStdin).toEqual(fromFile);
    expect(fromStdin.code).toBe(1);
  });

  test("takes its reader, its configuration and its waivers from where it would stand", async () => {
    const rows = Array.from({ length: 24 }, (_, i) => `0 90 0 ${i} 0 0 0 0 0`);
    expect((await piped(bvh(rows), "--stdin-filename", "new/take.bvh")).code).toBe(0);
    await shop.put("show/seq/keyside.config.json", { checks: { pop: false } });
    const checks = async (name: string) =>
      JSON.parse((await piped(poppingDocument(), "--stdin-filename", name)).stdout).shots[0].notes.map(
        ({ check }: { check: string }) => check,
      );
    expect(await checks("show/not-saved-yet.curves.json")).toContain("pop");
    expect(await checks("show/seq/not-saved-yet.curves.json")).not.toContain("pop");
    const [note] = JSON.parse((await piped(poppingDocument())).stdout).shots[0].notes;
    await shop.put("show/meant.waivers.json", {
      format: "keyside.waivers",
      version: 1,
      waivers: [{ check: note.check, node: note.node, frames: note.frames, reason: "a hit" }],
    });
    const [shot] = JSON.parse(
      (await piped(poppingDocument(), "--stdin-filename", "show/meant.curves.json")).stdout,
    ).shots;
    expect(shot.waived).toHaveLength(1);
  });

  test("is a curve document where nobody says what it is", async () => {
    expect(filesIn(await piped(cleanDocument()))).toEqual(["stdin.curves.json"]);
  });

  test.each<[string, unknown, string]>([
    ["empty", "", "The file is empty"],
    ["no shot", "hello", "stdin.curves.json: Line 1, column 1"],
  ])("that is %s is an error by its name", async (_, data, reason) => {
    const { code, stderr } = await piped(data);
    expect(code).toBe(3);
    expect(stderr).toContain(reason);
  });

  test("that is larger than the budget is refused", async () => {
    let allowed = 0;
    const ran = await shop.run(["check", "-", "--budget", "file=10"], {
      async stdin({ most }) {
        allowed = most;
        throw new FileRefusal("More than 10 B come over stdin.");
      },
    });
    expect(allowed).toBe(10);
    expect(ran.code).toBe(3);
    expect(ran.stderr).toBe("keyside: stdin.curves.json: More than 10 B come over stdin.\n");
    expect(bounds.shot.most).toBeGreaterThan(10);
  });

  test("is not written over by its report", async () => {
    const ran = await piped(poppingDocument(), "--stdin-filename", "show/a.bvh", "--out", "show/a.bvh");
    expect(ran.code).toBe(2);
  });
});

describe("what is meant", () => {
  test("without a path: all that is here", async () => {
    const ran = await shop.run(["check", "--format", "json"], { cwd: shop.path("show") });
    expect(filesIn(ran)).toEqual(["clean.curves.json", "seq/pop.curves.json"]);
    const baseline = await shop.run(["baseline", "--out", shop.path("known.json")], {
      cwd: shop.path("show"),
    });
    expect(baseline.code).toBe(0);
  });

  test("--changed-since without a path: what has changed here", async () => {
    const git = (...argv: string[]) =>
      execFileSync("git", ["-c", "user.name=a", "-c", "user.email=a@example.org", ...argv], {
        cwd: shop.path("show"),
      });
    git("init", "-q");
    git("add", "clean.curves.json");
    git("commit", "-qm", "first");
    const ran = await shop.run(["check", "--changed-since", "HEAD", "--format", "json"], {
      cwd: shop.path("show"),
    });
    expect(filesIn(ran)).toEqual(["seq/pop.curves.json"]);
  });

  test("a folder without shots is told and no error", async () => {
    const { code, stdout, stderr } = await shop.run(["check", "empty"]);
    expect(code).toBe(0);
    expect(stderr).toMatch(/^keyside: empty: The folder holds no shots \(\.curves\.json, .*\)\.\n$/);
    expect(stdout).toContain("0 notes in 0 shots.");
    expect((await shop.run(["check"], { cwd: shop.path("empty/seq") })).code).toBe(0);
  });

  test("a list passes over what is no shot, with one remark", async () => {
    const list = async (...names: string[]) =>
      shop.run(["check", "--files-from", "-", "--format", "json"], {
        stdin: async () => bytes(names.join("\n")),
      });
    const mixed = await list("show/readme.txt", "show/clean.curves.json", "gone/notes.md");
    expect(filesIn(mixed)).toEqual(["show/clean.curves.json"]);
    expect(mixed.code).toBe(0);
    expect(mixed.stderr).toBe(
      "keyside: 2 listed files are no shots and passed over: show/readme.txt, gone/notes.md.\n",
    );
    const many = await list("a.txt", "b.txt", "c.txt", "d.txt", "e.txt");
    expect(many.stderr).toContain(
      "5 listed files are no shots and passed over: a.txt, b.txt, c.txt and 2 more.",
    );
    expect((await list("show/readme.txt")).stderr).toContain("1 listed file is no shot and passed over: ");
  });

  test("a list still tells of shots and folders that are not there", async () => {
    const { code, stderr } = await shop.run(["check", "--files-from", "-"], {
      stdin: async () => bytes("gone.curves.json\nshwo/seq"),
    });
    expect(code).toBe(3);
    expect(stderr).toContain("gone.curves.json: There is no such file or folder.");
    expect(stderr).toContain("shwo/seq: There is no such file or folder.");
  });
});
