import { readdirSync, readFileSync } from "node:fs";
import { mkdir, readdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { CommanderError } from "commander";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { configJsonSchema } from "../../packages/core/expressions/config.ts";
import { registry } from "../../packages/core/faults/registry.ts";
import { programFor } from "../../packages/server/cli/program.ts";
import { formatNames } from "../../packages/server/present/report/formats.ts";
import { foreignCheck, pluginText } from "../server/cli/plugins-for-tests.ts";
import { Workshop } from "../server/cli/run-in-process.ts";
import { poppingDocument } from "../server/cli/shots-for-tests.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const textOf = (path: string) => readFileSync(root + path, "utf8");
const pages = [
  "README.md",
  ...readdirSync(`${root}docs`)
    .filter((name) => name.endsWith(".md"))
    .map((name) => `docs/${name}`),
];

/** The words of a call of the command in a block of a page: without what follows a pipe, or goes to a file. */
function wordsOf(line: string): string[] {
  const call =
    line
      .replace(/^\$ /, "")
      .replace(/^npx /, "")
      .split(/\s+[|>]\s/)[0] ?? "";
  return (call.match(/(?:"[^"]*"|[^\s"])+/g) ?? []).slice(1).map((word) => word.replaceAll('"', ""));
}

/** Calls of the command in the blocks of a text; lines that go on on the next one are joined. */
function callsIn(text: string): string[] {
  return [...text.matchAll(/```\w*\n([\s\S]*?)```/g)].flatMap(([, block = ""]) =>
    block
      .replace(/\\\n\s*/g, "")
      .split("\n")
      .map((line) => line.trim())
      .filter((line) => /^(?:\$ )?(?:npx )?keyside [a-z]+ \S/.test(line)),
  );
}

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await mkdir(shop.path("archive"));
  await mkdir(shop.path("sheets"));
  await shop.put("always.mjs", pluginText(foreignCheck()));
  await shop.put("archive/pop.curves.json", poppingDocument());
  await shop.put("archive/quay.curves.json", textOf("demo/shots/quay_0070_v1.curves.json"));
});
afterAll(() => shop.close());

/** Calls that are read as the command reads them; nothing is done. */
async function faultOf(argv: readonly string[]): Promise<string | null> {
  const silent = {
    stdout() {},
    stderr() {},
    columns: 100,
    env: { SLURM_ARRAY_TASK_ID: "1", SLURM_ARRAY_TASK_COUNT: "64" },
  };
  const program = programFor({ ...({} as Parameters<typeof programFor>[0]), ...silent }, () => {});
  for (const command of program.commands) command.action(() => {});
  try {
    await program.parseAsync([...argv], { from: "user" });
    return null;
  } catch (error) {
    if (error instanceof CommanderError) return error.message;
    throw error;
  }
}

describe("calls on the pages", () => {
  // Those on the page of plug-ins name checks and reports of modules; its own test runs them.
  test.each(pages.filter((page) => page !== "docs/plugins.md"))(
    "of %s are read by the command",
    async (page) => {
      // The list of commands says what each is, in the same line.
      const calls = callsIn(textOf(page)).filter((line) => !/^keyside \w+ .* {2,}/.test(line));
      for (const call of calls) {
        const argv = wordsOf(call.replace(/"\$\w+"/g, "4"));
        expect(await faultOf(argv), `${page}: ${call}`).toBe(null);
      }
    },
  );

  test("are told from those that cannot be read", async () => {
    expect(callsIn("```\n$ keyside check a.bvh \\\n  --rate 24 > x\n```")).toEqual([
      "$ keyside check a.bvh --rate 24 > x",
    ]);
    expect(wordsOf('$ npx keyside check "a b.bvh" --set "pop.floor=3 cm" | jq .')).toEqual([
      "check",
      "a b.bvh",
      "--set",
      "pop.floor=3 cm",
    ]);
    expect(await faultOf(["check", "a.bvh", "--rate", "fast"])).toMatch(/rate/);
    expect(await faultOf(["check", "a.bvh", "--pace", "24"])).toMatch(/--pace/);
  });
});

describe("formats of the report", () => {
  const page = textOf("docs/reports.md");

  test.each(formatNames)("%s has its row and its section, whose example runs", async (format) => {
    expect(page).toContain(`| \`${format}\` |`);
    const [, section = ""] =
      new RegExp(`^## ${format}\\n([\\s\\S]*?)(?=^## |(?![\\s\\S]))`, "m").exec(page) ?? [];
    const calls = callsIn(section);
    expect(calls.length).toBeGreaterThan(0);
    for (const call of calls) {
      const argv = wordsOf(call);
      expect(argv.includes(format) || format === "text", call).toBe(true);
      const before = await readdir(shop.folder);
      const { code, stdout, stderr } = await shop.run([...argv, "--no-cache", "--no-progress"]);
      expect(stderr).toBe("");
      expect([0, 1]).toContain(code);
      const out = argv[argv.indexOf("--out") + 1] ?? "";
      if (argv.includes("--out")) expect(before).not.toContain(out);
      const written = argv.includes("--out") ? readFileSync(shop.path(out), "utf8") : stdout;
      expect(written).toContain("pop");
    }
  });
});

describe("keys of the configuration", () => {
  /** For each key a value that makes a difference to what is said of two shots with notes. */
  const different: Readonly<Record<string, unknown>> = {
    rate: 12,
    style: "snappy",
    styles: { "our-show": { checks: { pop: { on: false, why: "Paper jumps." } } } },
    stage: "blocking",
    tiers: { minor: 0.98, major: 0.99 },
    failOn: "broken",
    checks: { pop: false },
    ownChecks: [
      {
        ...{ name: "stands-high", tier: "minor", node: "post", why: "Nothing stands here." },
        ...{ expression: "height(post) > -1 m", message: "post stands high" },
      },
    ],
    ignore: ["archive/**"],
    plugins: ["./always.mjs"],
  };
  const said = async (config: object) => {
    await shop.put("keyside.config.json", config);
    const { code, stdout, stderr } = await shop.run([
      "check",
      "archive/",
      "--format",
      "json",
      "--no-cache",
      "--no-progress",
    ]);
    const effects = await shop.run(["config", "archive/", "--format", "json"]);
    return { report: `${code} ${stdout}${stderr}`, effects: effects.stdout };
  };

  test("are all held here", () => {
    const schema = configJsonSchema(registry) as { properties: object };
    expect(
      Object.keys(schema.properties)
        .filter((key) => key !== "$schema")
        .sort(),
    ).toEqual(Object.keys(different).sort());
  });

  test.each(Object.entries(different))("%s changes something that is said", async (key, value) => {
    const plain = await said({});
    // A style that is written has to be chosen.
    const chosen = key === "styles" ? { style: "our-show" } : {};
    const changed = await said({ [key]: value, ...chosen });
    expect(changed.report).not.toBe(plain.report);
    expect(changed.effects).not.toBe(plain.effects);
  });
});
