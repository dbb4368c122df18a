import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import {
  defaultSettings,
  figuresOf,
  flightsOf,
  gridOf,
  notesOf,
  readShot,
  registry,
  resolveSettings,
  rigOf,
  type Study,
  studyOf as studyOfShot,
  worldOf,
} from "@keyside/core";
import { describe, expect, test } from "vitest";
import { demoModule } from "./load.ts";

const generator = "shots/make.mjs";
const { makeAll, cleanShot } = await demoModule(generator);
const files: ReadonlyMap<string, string> = makeAll();

function studyOf(text: string): Study {
  const { shot, problems } = readShot(text);
  expect(problems).toEqual([]);
  if (shot === null) throw new Error("not a shot");
  return studyOfShot(shot, defaultSettings(registry));
}

/** Farthest that a node gets from where it is at the first of some frames, metres. */
function drift(study: Study, node: string, from: number, to: number): number {
  const { frames } = gridOf(study);
  const { position } = worldOf(study, rigOf(study).indexOf.get(node) as number);
  const first = frames.indexOf(from);
  let far = 0;
  for (let i = first; frames[i] <= to; i++) {
    far = Math.max(
      far,
      Math.hypot(...[0, 1, 2].map((axis) => position[3 * i + axis] - position[3 * first + axis])),
    );
  }
  return far;
}

describe("generated shots", () => {
  test("the committed files are what the generator writes", () => {
    const script = fileURLToPath(new URL(`../../demo/${generator}`, import.meta.url));
    const { status, stderr } = spawnSync(process.execPath, [script, "--check"], { encoding: "utf8" });
    expect(stderr).toBe("");
    expect(status).toBe(0);
  });

  test.each([...files])("%s reads without problems and is of moderate size", (_, text) => {
    studyOf(text);
    expect(text.length).toBeLessThan(300_000);
  });
});

describe("shots without faults", () => {
  const steps = studyOf(cleanShot("steps_0110"));
  const quay = studyOf(cleanShot("quay_0070"));
  const jetty = studyOf(cleanShot("jetty_0040"));

  test.each([
    ["steps_0110", steps, "toe_r", 1, 18],
    ["steps_0110", steps, "toe_l", 1, 36],
    ["steps_0110", steps, "toe_r", 32, 54],
    ["steps_0110", steps, "toe_l", 50, 72],
    ["steps_0110", steps, "toe_r", 68, 118],
    ["quay_0070", quay, "toe_l", 1, 14],
    ["quay_0070", quay, "toe_r", 1, 22],
    ["quay_0070", quay, "toe_l", 21, 31],
    ["quay_0070", quay, "toe_r", 30, 40],
    ["quay_0070", quay, "toe_l", 38, 48],
    ["quay_0070", quay, "toe_r", 47, 76],
    ["quay_0070", quay, "toe_l", 55, 76],
    ["quay_0070", quay, "toe_l", 90, 136],
    ["quay_0070", quay, "toe_r", 90, 136],
    ["jetty_0040", jetty, "foot_l", 1068, 1122],
    ["jetty_0040", jetty, "foot_r", 1068, 1122],
  ] as const)("%s: %3$s stands still where it is planted", (_, study, node, from, to) => {
    expect(drift(study, node, from, to)).toBeLessThan(0.002);
  });

  test.each(["depot_0030", "gate_0050"])("%s: both feet stand still all through", (name) => {
    const study = studyOf(cleanShot(name));
    const [first, last] = [gridOf(study).frames[0], gridOf(study).frames[gridOf(study).count - 1]];
    for (const node of ["toe_l", "toe_r"]) expect(drift(study, node, first, last)).toBeLessThan(0.002);
  });

  test.each(["depot_0030", "gate_0050"])("%s: nothing is noted but polish", (name) => {
    const notes = notesOf(studyOf(cleanShot(name)));
    expect(notes.filter(({ tier }) => tier !== "polish").map(({ message }) => message)).toEqual([]);
  });

  // Standard gravity, CGPM 1901; the band is common practice for what keys within a tolerance leave of it.
  test("the dancer's one flight falls under gravity, for 14 frames", () => {
    const flights = figuresOf(quay).flatMap((_, figure) => flightsOf(quay, figure));
    expect(flights).toHaveLength(1);
    const [{ gravity, airTime }] = flights;
    expect(Math.abs(gravity / 9.80665 - 1)).toBeLessThan(0.04);
    expect(Math.abs(airTime * 25 - 14)).toBeLessThan(1);
  });
});

describe("faults", () => {
  const kinds = (file: string) =>
    notesOf(studyOf(files.get(file) as string)).map(({ check, node }) => `${check} ${node}`);

  test("the first version's slips of one key are noted at their nodes, and gone in the second", () => {
    expect(kinds("jetty_0040_v1.curves.json")).toContain("rotation-flip head");
    expect(kinds("jetty_0040_v2.curves.json")).not.toContain("rotation-flip head");
    expect(kinds("quay_0070_v1.curves.json")).toContain("pop hand_r");
    expect(kinds("quay_0070_v2.curves.json")).not.toContain("pop hand_r");
  });

  test("first versions of the picture and of props show ten kinds and more, the second ones two of them", () => {
    const ofPicture = (file: string) => {
      const named = { checks: { "early-look": { on: true } } };
      const { shot } = readShot(files.get(file) as string);
      if (shot === null) throw new Error("not a shot");
      const families = new Map<string, string>(registry.map(({ name, family }) => [name, family]));
      const notes = notesOf(studyOfShot(shot, resolveSettings(registry, named)));
      // What a note speaks for is shown with it.
      const all = notes.flatMap(({ check, also = [] }) => [check, ...also.map((one) => one.check)]);
      return [...new Set(all)]
        .filter((name) => ["staging", "props"].includes(families.get(name) ?? ""))
        .sort();
    };
    expect(ofPicture("depot_0030_v1.curves.json")).toEqual([
      "blending-colours",
      "frame-edge",
      "grip-slip",
      "no-load",
      "through-prop",
    ]);
    expect(ofPicture("gate_0050_v1.curves.json")).toEqual([
      "blending-colours",
      "early-look",
      "eye-line",
      "flashing",
      "limb-at-lens",
      "merged-silhouette",
    ]);
    expect(ofPicture("depot_0030_v2.curves.json")).toEqual(["grip-slip"]);
    expect(ofPicture("gate_0050_v2.curves.json")).toEqual(["eye-line"]);
  });

  test("the second version has a slip that the first has not", () => {
    expect(kinds("steps_0110_v1.curves.json")).not.toContain("pop head");
    expect(kinds("steps_0110_v2.curves.json")).toContain("pop head");
  });
});
