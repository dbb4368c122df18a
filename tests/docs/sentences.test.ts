import { readdirSync, readFileSync } from "node:fs";
import {
  type Note,
  notesOf,
  readShot,
  registry,
  resolveSettings,
  type Setting,
  studyOf,
} from "@keyside/core";
import { strengthKinds } from "@keyside/core/internal";
import { describe, expect, test } from "vitest";
import { fixNamed } from "../../packages/core/faults/registry.ts";
import { failureText } from "../../packages/server/present/text/failure.ts";
import { demoModule } from "../demo/load.ts";

/** Longer sentences have to be read twice; common practice of plain English. */
const mostWords = 30;

type Named = readonly [name: string, text: string];

function longIn(texts: readonly Named[]): string[] {
  return texts.flatMap(([name, text]) =>
    text
      .split(/(?<=[.!?])\s+/)
      .filter((sentence) => sentence.split(/\s+/).length > mostWords)
      .map((sentence) => `${name}: ${sentence}`),
  );
}

/** All that a check says of itself, whatever it finds. */
function textsOf(check: (typeof registry)[number]): Named[] {
  const { name, title, what, why, computes, fix, notAFault, limits, sources, settings } = check;
  const ofSettings = Object.entries(settings).flatMap(([setting, spec]: [string, Setting]): Named[] => [
    [`${name}.${setting}`, spec.what],
    [`${name}.${setting}, source`, spec.source],
    [`${name}.${setting}, bound`, spec.bound?.why ?? ""],
  ]);
  const own = [
    title,
    what,
    why,
    computes,
    fix,
    ...notAFault,
    ...limits,
    ...sources,
    fixNamed(name)?.what ?? "",
  ];
  return [...own.map((text): Named => [name, text]), ...ofSettings];
}

test("no sentence that a check says of itself is too long", () => {
  const texts = registry.flatMap(textsOf);
  expect(texts.length).toBeGreaterThan(500);
  expect(longIn(texts)).toEqual([]);
  expect(longIn([["made up", `${"word ".repeat(30)}word.`]])).toHaveLength(1);
});

test("no sentence that a kind of strength says of itself is too long", () => {
  const texts = strengthKinds.flatMap(({ name, title, what, computes, canFail, sources }) =>
    [title, what, computes, canFail, ...sources].map((text): Named => [name, text]),
  );
  expect(longIn(texts)).toEqual([]);
});

/** Notes of some checks, of all if none are named, on the text of a document. */
function notesIn(text: string, only?: readonly string[]): readonly Note[] {
  const { shot } = readShot(text);
  if (shot === null) throw new Error("A shot of the demo cannot be read.");
  return notesOf(studyOf(shot, resolveSettings(registry, {}, only === undefined ? {} : { only })));
}

const shots = new URL("../../demo/shots/", import.meta.url);
const { provocations, provokedText } = await demoModule("provocations/index.mjs");
/** What is noted on the demo's shots as they are, and by each check on the slip that provokes it. */
const notes: readonly Note[] = [
  ...readdirSync(shots)
    .filter((file) => file.endsWith(".curves.json"))
    .flatMap((file) => notesIn(readFileSync(new URL(file, shots), "utf8"))),
  ...provocations.flatMap((provocation: { check: string }) =>
    notesIn(provokedText(provocation), [provocation.check]),
  ),
];

describe("what notes say", () => {
  test("is said of every check", () => {
    const silent = registry.filter(({ name }) => !notes.some(({ check }) => check === name));
    expect(silent.map(({ name }) => name)).toEqual([]);
  });

  test("has no sentence that is too long, in what is wrong, in what to change or in what a fix is called", () => {
    const texts = notes.flatMap((note): Named[] => [
      [note.check, note.message],
      [`${note.check}, suggestion`, note.suggestion],
      [`${note.check}, why`, note.why],
      [`${note.check}, fix`, fixNamed(note.check)?.title(note) ?? ""],
    ]);
    expect(longIn(texts)).toEqual([]);
    const failure = { subject: "left hand", others: 3, message: "there is no number" };
    expect(longIn([["pop", failureText({ check: "pop", ...failure })]])).toEqual([]);
    expect(longIn([["own", failureText({ check: "own", ...failure })]])).toEqual([]);
  });
});

/** Counts of frames that a text gives as the length of the frames beside them, and those that they are by these frames. */
function countsIn(text: string): { said: number; is: number }[] {
  const span = String.raw`frames? (\d+)(?: to (\d+))?`;
  const counted = new RegExp(String.raw`${span} \((\d+) frames?\b`, "g");
  const behind = new RegExp(String.raw`\b(?:for|in) (?:the )?(\d+) frames? (?:at|in|over) ${span}`, "g");
  const count = (from: string, to: string | undefined) => Number(to ?? from) - Number(from) + 1;
  return [
    ...[...text.matchAll(counted)].map(([, from, to, said]) => ({ said: Number(said), is: count(from, to) })),
    ...[...text.matchAll(behind)].map(([, said, from, to]) => ({ said: Number(said), is: count(from, to) })),
  ];
}

describe("frames that are counted", () => {
  test("are as many as those beside them, the first and the last one included", () => {
    const counted = notes.flatMap(({ check, message, suggestion }) =>
      countsIn(`${message}; ${suggestion}`).map((count) => ({ check, message, ...count })),
    );
    expect(counted.filter(({ said, is }) => said !== is)).toEqual([]);
    const checks = ["block-move", "even-spacing", "frozen-hold", "twinning"];
    expect(counted.map(({ check }) => check)).toEqual(expect.arrayContaining(checks));
  });

  test("are those of the note, where they are its length", () => {
    for (const { check, frames, message } of notes) {
      // Clear of the ground is a body only after its take-off, and before it lands.
      if (check === "hang-time" && message.includes("from take-off to landing")) {
        const time = Number(/([\d.]+) frames? from take-off/.exec(message)?.[1]);
        expect(time, message).toBeGreaterThan(frames[1] - frames[0]);
      }
      if (check === "twinning" || check === "block-move") {
        expect(message).toContain(
          `frames ${frames[0]} to ${frames[1]} (${frames[1] - frames[0] + 1} frames)`,
        );
      }
    }
  });

  test("are found out where they are wrong", () => {
    expect(countsIn("turn as one piece in frames 98 to 110 (12 frames)")).toEqual([{ said: 12, is: 13 }]);
    expect(countsIn("airborne for 20 frames at frames 77 to 95")).toEqual([{ said: 20, is: 19 }]);
    expect(countsIn("stops falling at frame 45, 5 frames before it lands at frame 50")).toEqual([]);
  });
});
