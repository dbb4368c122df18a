import { existsSync, readdirSync, readFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { dirname, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";

const root = fileURLToPath(new URL("../../", import.meta.url));
const guide = readFileSync(`${root}DEVELOPERS.md`, "utf8");

/** Sources under a folder, as paths from the root. */
function sourcesIn(folder: string): string[] {
  return readdirSync(root + folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.(ts|mjs)$/.test(entry.name))
    .map((entry) => `${entry.parentPath}/${entry.name}`.slice(root.length).replace(/\/+/g, "/"))
    .filter((path) => !path.includes("/dist/"));
}

/** What a source imports: names of packages as they are, relative ones as paths from the root. */
function importsOf(path: string): string[] {
  const text = readFileSync(root + path, "utf8");
  return [...text.matchAll(/\b(?:from|import)\s*\(?\s*"([^"]+)"/g)].map(([, name = ""]) =>
    name.startsWith(".") ? resolve("/", dirname(path), name).slice(1) : name,
  );
}

/** Imports of a package that it must not have. */
function strayImports(folder: string, mustNot: (name: string) => boolean): string[] {
  const sources = sourcesIn(folder);
  expect(sources.length).toBeGreaterThan(3);
  return sources.flatMap((path) =>
    importsOf(path)
      .filter(mustNot)
      .map((name) => `${path}: ${name}`),
  );
}

const isOfNode = (name: string) =>
  name.startsWith("node:") || builtinModules.includes(name.split("/")[0] ?? "");
const leaves = (folder: string, name: string) =>
  name.startsWith("packages/") && !name.startsWith(`${folder}/`);

describe("packages", () => {
  test("the core does no I/O and imports neither server nor adapters", () => {
    const folder = "packages/core";
    const stray = strayImports(
      folder,
      (name) => isOfNode(name) || name.startsWith("@keyside/") || leaves(folder, name),
    );
    expect(stray).toEqual([]);
  });

  test("the core names no process, no console and no network", () => {
    const uses = sourcesIn("packages/core").filter((path) =>
      /\b(?:process|console)\.\w+|\bfetch\(/.test(
        readFileSync(root + path, "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/.*|"[^"\n]*"/g, ""),
      ),
    );
    expect(uses).toEqual([]);
  });

  test("adapters import the core alone, and do no I/O", () => {
    const folder = "packages/adapters";
    const stray = strayImports(folder, (name) => {
      if (name.startsWith("@keyside/")) return !/^@keyside\/core(\/internal)?$/.test(name);
      return leaves(folder, name);
    });
    expect(stray).toEqual([]);
    const readers = sourcesIn(folder).filter((path) => !path.startsWith(`${folder}/clients/`));
    expect(readers.filter((path) => importsOf(path).some(isOfNode))).toEqual([]);
  });

  test("the server reaches the others by their names", () => {
    expect(strayImports("packages/server", (name) => leaves("packages/server", name))).toEqual([]);
  });
});

describe("DEVELOPERS.md", () => {
  /** What stands in backquotes. */
  const named = [...guide.matchAll(/`([^`\n]+)`/g)].map(([, text = ""]) => text);

  test("every file and folder that it names is there", () => {
    const roots = ["", "packages/core/", "packages/core/faults/", "packages/server/serve/feed/"];
    const paths = named.filter(
      (text) => /^[\w.-]+(?:\/[\w.-]+)+\/?$/.test(text) && !/FAMILY|NAME/.test(text),
    );
    expect(paths.length).toBeGreaterThan(20);
    // What the demo writes is there only once it has run.
    const kept = paths.filter((path) => path !== "demo/out");
    expect(kept.filter((path) => !roots.some((folder) => existsSync(root + folder + path)))).toEqual([]);
  });

  test("its map has every folder of the packages with sources", () => {
    const isOnMap = (folder: string) => named.some((text) => text === folder);
    const core = readdirSync(`${root}packages/core`, { withFileTypes: true })
      .filter((entry) => entry.isDirectory() && !["dist", "node_modules"].includes(entry.name))
      .map(({ name }) => `packages/core/${name}`);
    expect(core.filter((folder) => !isOnMap(folder))).toEqual([]);
  });

  test("every npm script that it names exists, and it names every script", () => {
    const scripts = Object.keys(JSON.parse(readFileSync(`${root}package.json`, "utf8")).scripts);
    const run = named.flatMap((text) => {
      // What is to be filled in behind a script's name stands in capitals.
      const match = /^npm (?:run )?([a-z][\w:-]*)(?: [A-Z]+)*$/.exec(text);
      return match === null || match[1] === "ci" ? [] : [match[1] as string];
    });
    expect(run.filter((script) => !scripts.includes(script))).toEqual([]);
    expect(scripts.filter((script) => script !== "prepare" && !run.includes(script))).toEqual([]);
  });
});
