import { readFileSync, writeFileSync } from "node:fs";
import { defaultSettings, registry, resolveSettings, type Shot, type Study, studyOf } from "@keyside/core";
import { expect, test } from "vitest";
import { agreeWithin, type Compared, compared, recomputerOf } from "../../core/recomputed/shared/compare.ts";
import {
  capturedJump,
  demoShots,
  developmentShots,
  exampleMotions,
  recordings,
  shotFrom,
} from "../../core/recomputed/shared/shots.ts";

/** `npm run bench:trust`: numbers of notes against those that are computed again, check by check, into docs/trust.md. */

/** Development shots of the whole-shot bench that are gone over. */
const developmentCount = 12;

const page = new URL("../../../docs/trust.md", import.meta.url);
const [start, end] = ["<!-- bench:trust -->", "<!-- /bench:trust -->"];

test("writes how far the numbers agree", async () => {
  const all: Compared[] = [];
  const look = async (shot: Shot, study: Study) => all.push(...(await compared(shot, study)));
  const recorded = recordings();
  const development = await developmentShots(Array.from({ length: developmentCount }, (_, i) => i));
  for (const { make } of [...demoShots(), capturedJump(), ...recorded, ...development]) {
    const shot = make();
    await look(shot, studyOf(shot, defaultSettings(registry)));
  }
  for (const { name } of registry) {
    for (const { motion, config = {} } of exampleMotions(name)) {
      const shot = shotFrom(motion());
      await look(shot, studyOf(shot, resolveSettings(registry, config, { only: [name] })));
    }
  }
  const rows: string[] = [];
  for (const { name } of registry) {
    const own = all.filter(({ check }) => check === name);
    const link = `[\`${name}\`](checks/${name}.md)`;
    const known = (await recomputerOf(name)) !== null;
    rows.push(known ? row(link, own) : `| ${link} | not computed again yet | — | — |`);
  }
  const made = `${developmentCount} development shots of the whole-shot bench, the demo shots, the captured jump, ${recorded.length} recordings, and the examples of all checks.`;
  const table = [
    made,
    "",
    "| check | notes computed again | agree within 2 % | worst difference |",
    "| --- | --- | --- | --- |",
    ...rows,
    row("all", all),
  ];
  const text = readFileSync(page, "utf8");
  const [before, after] = [text.indexOf(start), text.indexOf(end)];
  expect(before).toBeGreaterThan(0);
  expect(after).toBeGreaterThan(before);
  writeFileSync(page, `${text.slice(0, before + start.length)}\n${table.join("\n")}\n${text.slice(after)}`);
});

function row(name: string, all: readonly Compared[]): string {
  const agree = all.filter(({ apart }) => apart <= agreeWithin).length;
  const worst = Math.max(0, ...all.map(({ apart }) => apart));
  const share = all.length === 0 ? "—" : (agree / all.length).toFixed(3);
  return `| ${name} | ${all.length} | ${share} | ${(100 * worst).toFixed(1)} % |`;
}
