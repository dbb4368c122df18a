import { existsSync, readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readConfig } from "../../packages/core/expressions/config.ts";
import { registry } from "../../packages/core/faults/registry.ts";
import { waiverFileSchema } from "../../packages/core/notes/waiver-file.ts";
import { programFor } from "../../packages/server/cli/program.ts";
import { schemaNames } from "../../packages/server/cli/schema-names.ts";
import { Workshop } from "../server/cli/run-in-process.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const textOf = (path: string) => readFileSync(root + path, "utf8");
/** Pages that are written by hand. */
const pages = [
  "README.md",
  "DEVELOPERS.md",
  "demo/README.md",
  ...readdirSync(`${root}docs`)
    .filter((name) => name.endsWith(".md"))
    .map((name) => `docs/${name}`),
];
const commandPage = textOf("docs/command.md");

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

describe("links", () => {
  test.each(pages)("of %s lead to files that are there, and to headings in them", (page) => {
    for (const [, target = "", heading] of textOf(page).matchAll(
      /\]\((?!https?:)([^)#\s]*)(?:#([^)\s]+))?\)/g,
    )) {
      const path =
        target === "" ? page : fileURLToPath(new URL(target, `file://${root}${page}`)).slice(root.length);
      expect(existsSync(root + path), `${page}: ${target}`).toBe(true);
      if (heading === undefined) continue;
      const anchors = [...textOf(path).matchAll(/^#+ (.*)$/gm)].map(([, title = ""]) =>
        title
          .toLowerCase()
          .replace(/[^\w -]/g, "")
          .replaceAll(" ", "-"),
      );
      expect(anchors, `${page}: ${target}#${heading}`).toContain(heading);
    }
  });

  test("the README leads to every page for users", () => {
    const readme = textOf("README.md");
    const linked = (name: string) => readme.includes(`(docs/${name})`);
    // The first is made beside the second, the other is for contributors.
    const others = ["host-messages.md", "fault-bench.md"];
    const missing = readdirSync(`${root}docs`).filter(
      (name) => name.endsWith(".md") && !others.includes(name) && !linked(name),
    );
    expect(missing).toEqual([]);
  });
});

describe("commands", () => {
  const program = () => programFor({ ...({} as Parameters<typeof programFor>[0]), columns: 100 }, () => {});

  test("each is on the page of the command, and in the help's examples or on a page of its own", () => {
    const names = program().commands.map((command) => command.name());
    expect(names).toContain("feed");
    const listed = [...commandPage.matchAll(/^keyside ([a-z]+)/gm)].map(([, name]) => name);
    expect(names.filter((name) => !listed.includes(name))).toEqual([]);
  });

  test("an option has one name, and one kind of value, in all commands", () => {
    const flags = new Map<string, string>();
    for (const command of program().commands) {
      for (const { long, flags: written, description } of command.options) {
        const name = `${command.name()} ${long}`;
        expect(written, name).toBe(flags.get(long ?? "") ?? written);
        flags.set(long ?? "", written);
        // Whatever takes names of checks limits the run or what comes of it to them, leaves them out, or lets them be sketched.
        if (/<CHECK>/.test(written)) expect(["--only", "--skip", "--sketch"], name).toContain(long);
        else expect(description, name).not.toMatch(/only .*checks/);
      }
    }
    const withOnly = program().commands.filter(({ options }) =>
      options.some(({ long }) => long === "--only"),
    );
    expect(withOnly.map((command) => command.name()).sort()).toEqual(
      ["baseline", "calibrate", "check", "compare", "config", "fix", "habits", "history", "sheet"].sort(),
    );
  });

  test("what pages call exists: commands and their options", () => {
    const commands = new Map(program().commands.map((command) => [command.name(), command]));
    for (const page of pages) {
      for (const [call, name = ""] of textOf(page).matchAll(/\bkeyside ([a-z]+)\b(?: [^\n`|]*)?/g)) {
        const command = commands.get(name);
        // "keyside" is also a word in sentences; a call of the command has a path or an option behind it.
        if (command === undefined) continue;
        const known = command.options.map(({ long }) => long);
        for (const [option] of call.matchAll(/(?<=\s)--[a-z][\w-]*/g)) {
          expect([...known, "--help"], `${page}: ${call}`).toContain(option);
        }
      }
    }
  });

  test.each([
    ["check", "docs/command.md"],
    ["fix", "docs/fixes.md"],
    ["compare", "docs/compare.md"],
    ["sheet", "docs/sheet.md"],
    ["calibrate", "docs/calibrate.md"],
  ])("every option of %s is on %s", (name, page) => {
    const text = textOf(page);
    const command = program().commands.find((one) => one.name() === name);
    const missing = (command?.options ?? [])
      .map(({ long }) => long ?? "")
      .filter((long) => !text.includes(long));
    expect(missing).toEqual([]);
  });

  test("every schema is on the page, in the list, and printed", async () => {
    const list = (await shop.run(["schema"])).stdout;
    for (const [name, what] of Object.entries(schemaNames)) {
      expect(commandPage).toMatch(new RegExp(`\\| \`${name}\`[^|]* \\| ${what} \\|`));
      expect(list).toMatch(new RegExp(`^  ${name} +${what}$`, "m"));
      expect((await shop.run(["schema", name])).code).toBe(0);
    }
  });
});

describe("examples", () => {
  test("of the README: the notes are those of the shot, at a glance and in full", async () => {
    const blocks = [...textOf("README.md").matchAll(/```\n([\s\S]*?)```/g)].map(([, block = ""]) => block);
    const glance = blocks.find((block) => /^ {2}tier /m.test(block)) ?? "";
    const full = blocks.find((block) => /^ {4}major /m.test(block)) ?? "";
    const argv = ["check", "demo/shots/quay_0070_v1.curves.json", "--no-cache"];
    const { stdout } = await shop.run(argv, { cwd: root });
    expect(stdout.startsWith(`${glance}\n`)).toBe(true);
    expect(full).toContain("hang-time");
    expect((await shop.run([...argv, "--long"], { cwd: root })).stdout).toContain(full.trimEnd());
  });

  test("of the configuration can be used", async () => {
    const section = commandPage.slice(commandPage.indexOf("## Configuration"));
    const config = JSON.parse(/```json\n([\s\S]*?)```/.exec(section)?.[1] ?? "");
    await expect(readConfig(registry, config)).resolves.toMatchObject({ style: "snappy" });
  });

  test("of checks left out and settings given for one run can be used", async () => {
    const section = commandPage.slice(commandPage.indexOf("### For one run"));
    const calls = (/```\n([\s\S]*?)```/.exec(section)?.[1] ?? "").trim().split("\n");
    expect(calls.length).toBeGreaterThan(2);
    await shop.put("empty.txt", "");
    for (const call of calls) {
      const [, name = "", ...words] = call.match(/"[^"]*"|\S+/g) ?? [];
      const options = words.slice(1).map((word) => word.replaceAll('"', ""));
      // The options of `config` are the same, and it refuses what cannot be used without judging anything.
      expect(await shop.run(["config", "empty.txt", ...options]), call).toMatchObject({
        code: 0,
        stderr: "",
      });
      expect(name).toBe("check");
    }
  });

  test("of a fix and of a file of waivers are true", async () => {
    const page = textOf("docs/fixes.md");
    const waivers = JSON.parse(/```json\n([\s\S]*?)```/.exec(page)?.[1] ?? "");
    expect(waiverFileSchema.safeParse(waivers).success).toBe(true);
    const [, example = ""] = /```\n( {4}major[\s\S]*?)```/.exec(page) ?? [];
    await shop.put("quay.curves.json", textOf("demo/shots/quay_0070_v1.curves.json"));
    const shown = await shop.run(["fix", "quay.curves.json", "--only", "pop"]);
    expect(shown.stdout).toContain(example.trimEnd());
    await shop.put("quay.waivers.json", waivers);
    const checked = await shop.run([
      "check",
      "quay.curves.json",
      "--only",
      "twinning",
      "--fail-on",
      "polish",
    ]);
    expect(checked).toMatchObject({ code: 0 });
    expect(checked.stdout).toContain("She conducts; both arms are meant to agree. (Ana)");
  });
});
