import { expect, test } from "vitest";
import {
  defaultSettings,
  lineStartsOf,
  readShot,
  registry,
  studyOf,
} from "../../../../packages/core/index.ts";
import type { LoadedShot } from "../../../../packages/server/judge/shots/load.ts";
import { reportShot } from "../../../../packages/server/judge/shots/shot-report.ts";
import { alikeTexts } from "../../../../packages/server/present/text/alike.ts";

/** A crowd: 20 figures of 100 joints each, of which 14 raise a hand that stands out in one frame. */

const figures = 20;
const joints = 100;
const faulty = 14;

function crowd() {
  const nodes: object[] = [];
  const curves: object[] = [];
  const bodies: object[] = [];
  for (let k = 0; k < figures; k++) {
    const id = (name: string) => `f${k}:${name}`;
    const add = (name: string, parent: string | null, translation: readonly number[]) =>
      nodes.push({ id: id(name), ...(parent === null ? {} : { parent: id(parent) }), translation });
    add("hips", null, [100 * k, 95, 0]);
    add("chest", "hips", [0, 40, 0]);
    add("head", "chest", [0, 25, 0]);
    add("arm", "chest", [18, 10, 0]);
    add("forearm", "arm", [28, 0, 0]);
    add("hand", "forearm", [26, 0, 0]);
    for (let j = 6; j < joints; j++) add(`strand_${j}`, j === 6 ? "head" : `strand_${j - 1}`, [0, -0.5, 0]);
    const parts = { root: id("hips"), chest: id("chest"), head: id("head") };
    const arm = { rightUpperArm: id("arm"), rightForearm: id("forearm"), rightHand: id("hand") };
    bodies.push({ id: `f${k}`, stature: 1.75, parts: { ...parts, ...arm } });
    const keys = Array.from({ length: 48 }, (_, f) => {
      const swing = 20 * Math.sin((f + 3 * k) / 9);
      return [f + 1, swing + (k < faulty && f === 20 + (k % 5) ? 25 : 0)];
    });
    curves.push({ node: id("arm"), channel: "rotation.z", interpolation: "linear", keys });
  }
  return { nodes, curves, bodies };
}

test("20 figures with 2,000 nodes have notes of their own, and a line that says what many do alike", () => {
  const { nodes, curves, bodies } = crowd();
  expect(nodes).toHaveLength(2000);
  const text = JSON.stringify({
    format: "keyside.curves",
    version: 1,
    shot: { name: "crowd", frameRate: 24, range: [1, 48] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes,
    figures: bodies,
    curves,
  });
  const { shot, problems, places } = readShot(text);
  if (shot === null) throw new Error(problems[0].message);
  const study = studyOf(shot, defaultSettings(registry));
  const loaded = {
    file: "crowd",
    name: "crowd",
    shot,
    text,
    places,
    problems,
    lineStarts: lineStartsOf(text),
  };
  const report = reportShot(loaded as unknown as LoadedShot, study);
  const pops = report.notes.filter(({ check }) => check === "pop");
  expect(new Set(pops.map(({ figure }) => figure)).size).toBe(faulty);
  expect(alikeTexts(report).filter((line) => line.includes("pop"))).toEqual([
    `${faulty} of ${figures} figures: pop of right upper arm`,
  ]);
  expect(alikeTexts({ ...report, alike: undefined })).toEqual([]);
});
