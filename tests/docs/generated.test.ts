import { existsSync, readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { registry } from "@keyside/core";
import { describe, expect, test } from "vitest";

const docs = fileURLToPath(new URL("../../docs/", import.meta.url));

// biome-ignore lint/suspicious/noExplicitAny: the generator is plain JavaScript
const load = (path: string): Promise<any> =>
  import(/* @vite-ignore */ new URL(`../../docs/make/${path}`, import.meta.url).href);
const { generatedDocs } = (await load("pages.mjs")) as { generatedDocs(): Map<string, string> };
const files = generatedDocs();

describe("generated pages", () => {
  test("are what the code says; npm run docs writes them", () => {
    const old = [...files].filter(
      ([name, text]) => !existsSync(docs + name) || readFileSync(docs + name, "utf8") !== text,
    );
    expect(old.map(([name]) => name)).toEqual([]);
    const there = ["checks", "checks/pictures"].flatMap((folder) =>
      readdirSync(docs + folder, { withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map(({ name }) => `${folder}/${name}`),
    );
    expect(there.filter((name) => !files.has(name))).toEqual([]);
  });

  test("there is one per check, with all of its settings", () => {
    for (const { name, settings, what, computes } of registry) {
      const page = files.get(`checks/${name}.md`) ?? "";
      expect(page).toContain(what);
      expect(page).toContain(computes);
      for (const setting of Object.keys(settings)) expect(page).toContain(`| \`${setting}\` |`);
      expect(files.get("checks/README.md")).toContain(`(${name}.md)`);
    }
  });

  test("every link between them leads somewhere", () => {
    for (const [name, text] of files) {
      if (!name.endsWith(".md")) continue;
      const folder = new URL(name, `file://${docs}`);
      for (const [, target] of text.matchAll(/\]\(([^)#]+)\)/g)) {
        expect(existsSync(new URL(target, folder)), `${name}: ${target}`).toBe(true);
      }
    }
  });
});

describe("pictures", () => {
  test("each check has its own, drawn with numbers only", () => {
    for (const { name } of registry) {
      const svg = files.get(`checks/pictures/${name}.svg`) ?? "";
      expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" viewBox/);
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    }
  });

  test("no two checks show the same", () => {
    const drawings = registry.map(({ name, title }) =>
      (files.get(`checks/pictures/${name}.svg`) ?? "").replace(title, ""),
    );
    expect(new Set(drawings).size).toBe(drawings.length);
  });
});
