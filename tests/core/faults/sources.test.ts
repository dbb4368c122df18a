import { readdirSync, readFileSync } from "node:fs";
import { registry, type Setting } from "@keyside/core";
import { describe, expect, test } from "vitest";

/** Shorter than this, in characters, nothing says where a number comes from. */
const leastLength = 25;
/** Ways in which a source begins that is no publication. */
const kinds = /^(?:common practice|from memory|geometry|measured): \S/;
/** A publication has a year. */
const year = /\b(?:1[6-9]|20)\d\d\b/;

/** What is wrong with the source of a setting's default; null where it says which practice or which publication. */
function wrongWith({ source = "" }: { readonly source?: string }): string | null {
  if (source === "") return "has no source";
  if (/^common practice(?:\W*$|;|.*\(from memory\))/i.test(source))
    return "says common practice, but not which";
  if (source.length < leastLength) return "has a source that says too little";
  if (!kinds.test(source) && !year.test(source)) return "names neither a kind of source nor a year";
  return null;
}

describe("where the defaults come from", () => {
  const settings = registry.flatMap(({ name, settings }) =>
    Object.entries(settings).map(([setting, spec]: [string, Setting]) => ({
      name: `${name}.${setting}`,
      spec,
    })),
  );

  test("every setting names a publication, or says which practice or memory it rests on", () => {
    expect(settings.length).toBeGreaterThan(100);
    const wrong = settings.flatMap(({ name, spec }) => {
      const what = wrongWith(spec);
      return what === null ? [] : [`${name} ${what}: ${spec.source}`];
    });
    expect(wrong).toEqual([]);
  });

  test("no check names common practice as its source without saying which", () => {
    const bare = registry.filter(({ sources }) => sources.some((source) => source.length < leastLength));
    expect(bare.map(({ name }) => name)).toEqual([]);
  });

  test.each([
    ["", "has no source"],
    ["common practice", "says common practice, but not which"],
    ["Common practice.", "says common practice, but not which"],
    ["common practice; figures of somebody 1999", "says common practice, but not which"],
    ["common practice: throwers reach 1,200°/s (from memory)", "says common practice, but not which"],
    ["common practice: usual", "has a source that says too little"],
    ["everybody in the whole trade does it like that", "names neither a kind of source nor a year"],
    ["common practice: a stop of four frames reads as timing", null],
    ["Flash & Hogan 1985: minimum-jerk movements", null],
  ])("of %j it says %j", (source, said) => {
    expect(wrongWith({ source })).toBe(said);
  });
});

/** Numbers with a name at the top of a file, each with what stands above it, or null where nothing does. */
function namedNumbers(text: string): { name: string; comment: string | null }[] {
  const lines = text.split("\n");
  const found: { name: string; comment: string | null }[] = [];
  lines.forEach((line, at) => {
    const name = /^(?:export )?const (\w+)(?:: \w+)? = [-\d.(]*\d[^;]*;$/.exec(line)?.[1];
    if (name === undefined) return;
    const above = lines[at - 1] ?? "";
    // Numbers that belong together share what stands above the first of them.
    const isNext = found.length > 0 && /^(?:export )?const \w+/.test(above);
    if (isNext) found.push({ name, comment: found[found.length - 1].comment });
    else found.push({ name, comment: above.trim().endsWith("*/") ? above : null });
  });
  return found;
}

test("every number with a name in checks and measures says what it is", () => {
  const root = new URL("../../../packages/core/", import.meta.url);
  const files = ["faults/", "motion/"].flatMap((folder) =>
    readdirSync(new URL(folder, root), { recursive: true })
      .map(String)
      // Examples are made-up shots: their numbers decide nothing.
      .filter((file) => file.endsWith(".ts") && !/\bexamples\b/.test(file))
      .map((file) => folder + file),
  );
  const numbers = files.flatMap((file) =>
    namedNumbers(readFileSync(new URL(file, root), "utf8")).map((number) => ({ file, ...number })),
  );
  expect(numbers.length).toBeGreaterThan(80);
  expect(numbers.filter(({ comment }) => comment === null)).toEqual([]);
  expect(namedNumbers("const share = 0.35;\n")).toEqual([{ name: "share", comment: null }]);
});
