import { readdirSync, readFileSync } from "node:fs";
import {
  type CheckName,
  defaultSettings,
  readShot,
  registry,
  resolveSettings,
  type Shot,
  shotOf,
  studyOf,
} from "@keyside/core";
import { examples } from "@keyside/core/examples";
import { describe, expect, test } from "vitest";
import { readBvh } from "../../../packages/adapters/bvh/read.ts";
import { shotsModule } from "../../bench/shots/load.ts";
import { agreeWithin, type Compared, compared, recomputerOf } from "./shared/compare.ts";

/**
 * Every number that a note tells is computed a second time, plainly, from sampled positions and turns and the note's own
 * frames alone, as the check's page says. The recomputers stand in the folders of their checks' families; they use the
 * document reader and the poses, and nothing of what they test.
 */

const root = new URL("../../../", import.meta.url);
const { developmentSeed } = await shotsModule("./seeds.mjs");
const { plantedShot } = await shotsModule("./shots.mjs");

/** A development shot of the whole-shot bench; building more takes long, and `npm run bench:trust` goes over many. */
const developmentIndices = [14];

/** Checks whose number is not computed again yet. */
const missing: readonly string[] = ["beat-mismatch", "jitter"];

function shotIn(text: string): Shot {
  const { shot, problems } = readShot(text);
  if (shot === null) throw new Error(problems.map(({ message }) => message).join("; "));
  return shot;
}

const read = (path: string) => readFileSync(new URL(path, root), "utf8");

const shots: readonly (readonly [name: string, make: () => Shot])[] = [
  ...readdirSync(new URL("demo/shots", root))
    .filter((file) => file.endsWith(".curves.json"))
    .map((file) => [file, () => shotIn(read(`demo/shots/${file}`))] as const),
  ...developmentIndices.map(
    (index) =>
      [`development shot ${index}`, () => shotIn(plantedShot(developmentSeed, index).full.text)] as const,
  ),
  [
    "the captured jump",
    () => readBvh(read("tests/fixtures/capture/forward-jump.bvh"), { rate: 24 }).shot as Shot,
  ],
];

const recomputed = registry.map(({ name }) => name).filter((name) => !missing.includes(name));

const inWords = ({ check, note, said, again, reason }: Compared) =>
  `${check} at ${note.node}, frames ${note.frames.join(" to ")}: says ${said} ${note.measured.unit}, is ${again} ${reason}`;

const apart = (all: readonly Compared[]) => all.filter((one) => one.apart > agreeWithin).map(inWords);

describe("numbers computed again", () => {
  test.each(registry.map(({ name }) => name))(
    "%s has a recomputer, or is listed as missing",
    async (name) => {
      expect((await recomputerOf(name)) === null).toBe(missing.includes(name));
    },
  );

  test.each(recomputed)("%s tells the number that is there on the motions of its examples", async (name) => {
    const { faulty, silent } = examples[name as CheckName];
    const motions = [
      ...faulty.map(({ motion, config }) => ({ motion, config })),
      ...silent.flatMap(({ unexcused, config }) => (unexcused ? [{ motion: unexcused, config }] : [])),
    ];
    const all: Compared[] = [];
    for (const { motion, config = {} } of motions) {
      const { shot } = shotOf(motion());
      const study = studyOf(shot as Shot, resolveSettings(registry, config, { only: [name] }));
      all.push(...(await compared(shot as Shot, study)));
    }
    expect(all.length).toBeGreaterThan(0);
    expect(apart(all)).toEqual([]);
  });

  test.each(shots)("all notes on %s tell the number that is there", async (_, make) => {
    const shot = make();
    const study = studyOf(shot, defaultSettings(registry));
    const all = await compared(shot, study);
    expect(apart(all)).toEqual([]);
  });
});
