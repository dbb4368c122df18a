import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type CheckName, defaultSettings, notesOf, readShot, registry, studyOf } from "@keyside/core";
import { expect, test } from "vitest";
import { recomputerOf } from "../../core/recomputed/shared/compare.ts";
import { shotsModule } from "../shots/load.ts";
import { causesTable } from "./causes/causes-table.ts";
import { type NoteTrial, noteTrial } from "./causes/note-trial.ts";
import { pointFaults } from "./causes/point-faults.ts";

/**
 * `npm run bench:causes`: the key that a note names first against keys that it does not name, on shots that are drawn from
 * the commit, into docs/trust.md. With SEED in the environment the shots are drawn from that text, and nothing is written;
 * SHOTS says how many there are.
 */

const page = new URL("../../../docs/trust.md", import.meta.url);
const [start, end] = ["<!-- bench:causes -->", "<!-- /bench:causes -->"];

test("writes how often the key named first changes a note's number most", async () => {
  const { seedOfCommit } = await shotsModule("./seeds.mjs");
  const { plantedShot } = await shotsModule("./shots.mjs");
  const { randomOf } = await shotsModule("./random.mjs");
  const given = process.env.SEED;
  const { seed, commit } =
    given === undefined
      ? seedOfCommit(fileURLToPath(new URL(".", import.meta.url)))
      : { seed: given, commit: null };
  const count = Number(process.env.SHOTS ?? 48);
  const settings = defaultSettings(registry);
  const trials: NoteTrial[] = [];
  for (let index = 0; index < count; index++) {
    const { shot } = readShot(plantedShot(seed, index).full.text);
    if (shot === null) throw new Error(`shot ${index} cannot be read`);
    const study = studyOf(shot, settings);
    for (const note of notesOf(study)) {
      const recompute = pointFaults.includes(note.check as CheckName) ? await recomputerOf(note.check) : null;
      if (recompute === null) continue;
      const lot = randomOf(`${seed}/causes/${index}/${note.check}/${note.node}/${note.frames}`);
      trials.push(noteTrial(shot, study, settings, note, recompute, lot));
    }
  }
  const drawn =
    commit === null
      ? `drawn from "${seed}"`
      : `drawn from commit ${commit.slice(0, 12)}, whose name is the seed`;
  const report = `${count} shots ${drawn}.\n\n${causesTable(pointFaults, trials)}`;
  if (given !== undefined) {
    console.log(report);
    return;
  }
  const text = readFileSync(page, "utf8");
  const [before, after] = [text.indexOf(start), text.indexOf(end)];
  expect(before).toBeGreaterThan(0);
  expect(after).toBeGreaterThan(before);
  writeFileSync(page, `${text.slice(0, before + start.length)}\n${report}\n${text.slice(after)}`);
});
