import { readdirSync, readFileSync } from "node:fs";
import { defaultSettings, notesOf, readShot, registry, studyOf } from "@keyside/core";
import { expect, test } from "vitest";
import { failureText } from "../../packages/server/present/text/failure.ts";

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

test("no sentence of what reports say of a check is too long", () => {
  const texts = registry.flatMap(({ name, what, why, fix }): Named[] => [
    [name, what],
    [name, why],
    [name, fix],
  ]);
  expect(longIn(texts)).toEqual([]);
  expect(longIn([["made up", `${"word ".repeat(30)}word.`]])).toHaveLength(1);
});

test("no message on the demo's shots is too long, nor that of a check that fails", () => {
  const shots = new URL("../../demo/shots/", import.meta.url);
  const texts = readdirSync(shots)
    .filter((file) => file.endsWith(".curves.json"))
    .flatMap((file) => {
      const { shot } = readShot(readFileSync(new URL(file, shots), "utf8"));
      if (shot === null) throw new Error(`${file} cannot be read.`);
      const notes = notesOf(studyOf(shot, defaultSettings(registry)));
      return notes.map(({ check, message }): Named => [check, message]);
    });
  expect(texts.length).toBeGreaterThan(15);
  expect(longIn(texts)).toEqual([]);
  const failure = { subject: "left hand", others: 3, message: "there is no number" };
  expect(longIn([["pop", failureText({ check: "pop", ...failure })]])).toEqual([]);
  expect(longIn([["own", failureText({ check: "own", ...failure })]])).toEqual([]);
});
