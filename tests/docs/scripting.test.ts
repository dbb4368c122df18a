import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterEach, describe, expect, test, vi } from "vitest";
import { demoModule } from "../demo/load.ts";
import { docFaults, publicNames } from "../support/public-api.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const page = readFileSync(`${root}docs/scripting.md`, "utf8");
const names = publicNames(`${root}packages/core/index.ts`);

/** The sections of the page by their headings. */
const sections = new Map(
  page
    .split(/^## /m)
    .slice(1)
    .map((section) => [section.slice(0, section.indexOf("\n")), section]),
);

/** What the tables of a text name in their first column. */
function listed(text: string): string[] {
  return [...text.matchAll(/^\| (`[^|]*`) \|/gm)].flatMap(([, cell = ""]) =>
    [...cell.matchAll(/`(\w+)`/g)].map(([, name = ""]) => name),
  );
}

describe("the public list", () => {
  test("is named: every name once, in groups", () => {
    expect(names.length).toBeGreaterThan(150);
    expect(new Set(names.map(({ name }) => name)).size).toBe(names.length);
    expect(new Set(names.map(({ group }) => group)).size).toBeGreaterThan(5);
  });

  test("is what the package gives, types apart", async () => {
    const given = Object.keys(await import("@keyside/core")).sort();
    const values = names.filter(({ kind }) => kind !== "type").map(({ name }) => name);
    expect(given).toEqual(values.sort());
  });

  test("has each name on the page, in the section of its group", () => {
    const missing = names.filter(
      ({ name, group }) => !listed(sections.get(group.replace(/\.$/, "")) ?? "").includes(name),
    );
    expect(missing.map(({ name, group }) => `${name} (${group})`)).toEqual([]);
  });

  test("has all that the page lists or imports", () => {
    const known = new Set(names.map(({ name }) => name));
    expect(listed(page).filter((name) => !known.has(name))).toEqual([]);
    for (const [, list = ""] of page.matchAll(/import \{([^}]*)\} from "@keyside\/core";/g)) {
      const imported = list
        .split(",")
        .map((name) => name.trim())
        .filter(Boolean);
      expect(imported.filter((name) => !known.has(name))).toEqual([]);
    }
  });

  test("says above each function what it takes, gives and throws, and in what numbers are counted", () => {
    const throwing = new Set(
      names.flatMap(({ kind, name, docs }) =>
        kind === "function" && docs?.includes("@throws") ? [name] : [],
      ),
    );
    expect(throwing.size).toBeGreaterThan(5);
    const faults = names.flatMap(({ calls }) => calls.flatMap((call) => docFaults(call, throwing)));
    expect(faults).toEqual([]);
    expect(names.flatMap(({ calls }) => calls).length).toBeGreaterThan(100);
  });

  test("says of each type and value what it is", () => {
    expect(names.filter(({ docs }) => docs === null).map(({ name }) => name)).toEqual([]);
  });
});

describe("the reader of docstrings", () => {
  const call = {
    name: "drop",
    parameters: [
      { name: "time", type: "number" },
      { name: "path", type: "Float64Array" },
    ],
    result: "number",
    body: "{ throw new RangeError(); }",
  };

  test("names whatever is left out", () => {
    expect(docFaults({ ...call, docs: null }, new Set())).toEqual(["drop has no docstring"]);
    expect(
      docFaults({ ...call, docs: "A drop.\n@param time how long\n@param other seconds" }, new Set()),
    ).toEqual([
      "drop: @param time does not say in what it is counted",
      "drop: no @param path",
      "drop: there is no parameter other",
      "drop: no @returns",
      "drop: no @throws",
    ]);
  });

  test("says nothing of what is told, and asks for errors of what is called", () => {
    const docs =
      "A drop.\n@param time seconds from rest\n@param path metres, three\nnumbers per sample\n@returns metres";
    expect(docFaults({ ...call, body: "{ return fall(time); }", docs }, new Set())).toEqual([]);
    expect(docFaults({ ...call, body: "{ return fall(time); }", docs }, new Set(["fall"]))).toEqual([
      "drop: no @throws",
    ]);
  });
});

describe("scripts on the page", () => {
  const argv = process.argv;
  afterEach(() => {
    process.argv = argv;
    vi.restoreAllMocks();
  });

  /** Scripts as the page shows them, with what it says that they print. */
  const shown = [
    ...page.matchAll(
      /^\[demo\/scripts\/([\w-]+)\.mjs\][^\n]*:\n\n```js\n([\s\S]*?)```\n\nprints\n\n```\n([\s\S]*?)```/gm,
    ),
  ].map(([, name = "", code = "", printed = ""]) => ({ name, code, printed }));

  test("are all scripts of the demo, and there is no other code", () => {
    const scripts = readdirSync(`${root}demo/scripts`).map((file) => file.replace(/\.mjs$/, ""));
    expect(shown.map(({ name }) => name).sort()).toEqual(scripts.sort());
    expect(page.split("```").length - 1).toBe(4 * shown.length);
  });

  test.each(shown)(
    "$name stands there as it is, and prints what is said",
    async ({ name, code, printed }) => {
      const script = readFileSync(`${root}demo/scripts/${name}.mjs`, "utf8");
      expect(code).toBe(script.replace("// @ts-check\n", ""));
      const lines: string[] = [];
      vi.spyOn(console, "log").mockImplementation((line) => lines.push(String(line)));
      process.argv = [process.execPath, name];
      await demoModule(`scripts/${name}.mjs?page`);
      const said = printed.trimEnd().split("\n");
      // Of a long output the page shows the beginning.
      if (said.at(-1) === "…") expect(lines.slice(0, said.length - 1)).toEqual(said.slice(0, -1));
      else expect(lines).toEqual(said);
      expect(lines.length).toBeGreaterThan(0);
    },
  );
});
