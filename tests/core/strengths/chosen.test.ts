import { readFileSync } from "node:fs";
import {
  defaultSettings,
  editShot,
  figuresOf,
  type Note,
  notesOf,
  readShot,
  registry,
  reviewOf,
  rigOf,
  type Strength,
  type Study,
  strengthsOf,
  studyOf,
} from "@keyside/core";
import { allStrengthsOf, heldOf, mostStrengths } from "@keyside/core/internal";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { demoShots, developmentShots, shotFrom } from "../recomputed/shared/shots.ts";
import { cases } from "./motions.ts";

const settings = defaultSettings(registry);
const shots = [...demoShots(), ...(await developmentShots([0]))];

/** The nodes above a node, and itself. */
function above(study: Study, node: number): number[] {
  const { parent } = rigOf(study);
  return node < 0 ? [] : [node, ...above(study, parent[node])];
}

/** Major notes that speak of the same frames, figure, and of the part, what it carries or what carries it. */
function against(study: Study, strength: Strength): readonly Note[] {
  const { indexOf } = rigOf(study);
  const { notes, waived } = reviewOf(study);
  const all = [...notes, ...waived.map(({ note }) => note)].flatMap((note) => [note, ...(note.also ?? [])]);
  const isOf = (a: number, b: number) => above(study, a).includes(b) || above(study, b).includes(a);
  return all.filter((note) => {
    if (note.tier !== "major") return false;
    if (note.frames[0] > strength.frames[1] || note.frames[1] < strength.frames[0]) return false;
    if (note.figure !== null && note.figure !== strength.figure) return false;
    if (note.node === null) return true;
    const [at] = [indexOf.get(note.node) ?? -1];
    return strength.seenAt.some((node) => isOf(indexOf.get(node) ?? -1, at));
  });
}

describe("strengths of a shot", () => {
  test.each(shots)("on $name are five at most, of several kinds, and stand on no major note", ({ make }) => {
    const study = studyOf(make(), settings);
    const told = strengthsOf(study);
    expect(told.length).toBeLessThanOrEqual(mostStrengths);
    for (const strength of told) expect(against(study, strength)).toEqual([]);
    for (const strength of allStrengthsOf(study)) expect(against(study, strength)).toEqual([]);
    for (const { kind } of told)
      expect(told.filter((other) => other.kind === kind).length).toBeLessThanOrEqual(2);
  });

  test("come with the one first that carries most of the picture, each once", () => {
    const [study] = demoShots()
      .filter(({ name }) => name === "quay_0070_v2.curves.json")
      .map(({ make }) => studyOf(make(), settings));
    const told = strengthsOf(study);
    expect(told.length).toBe(mostStrengths);
    expect(new Set(told.map(({ kind }) => kind)).size).toBeGreaterThanOrEqual(4);
    expect(told.map(({ rank }) => rank.plainness)).toEqual(
      told.map(({ rank }) => rank.plainness).sort((a, b) => b - a),
    );
    // What the demo says of its jump: 1 g, and feet that keep their place.
    expect(told.map(({ message }) => message)).toContain("the body falls at 1.00 g, frames 77 to 89");
  });

  test("of left and right over the same frames one is told", () => {
    const study = studyOf(shotFrom(cases["rooted-foot"].holds[0].motion()), settings);
    expect(allStrengthsOf(study).filter(({ kind }) => kind === "rooted-foot")).toHaveLength(2);
    expect(strengthsOf(study).filter(({ kind }) => kind === "rooted-foot")).toHaveLength(1);
  });

  test("are none in a shot in which nothing moves", () => {
    const motion = cases["living-hold"].not[0].motion();
    const study = studyOf(shotFrom({ ...motion, curves: [] }), settings);
    expect(strengthsOf(study)).toEqual([]);
  });

  test("are none where the unit or the body is a guess that they hang on", () => {
    const motion = cases["true-fall"].holds[0].motion();
    const known = studyOf(shotFrom(motion), settings);
    expect(heldOf(known).map(({ strength }) => strength.kind)).toContain("true-fall");
    const { space: _, figures: __, surfaces: ___, ...rest } = motion;
    const nodes = rest.nodes.map((node, k) => ({
      ...node,
      id: `n${k}`,
      ...(node.parent === undefined
        ? {}
        : { parent: `n${rest.nodes.findIndex(({ id }) => id === node.parent)}` }),
      translation: node.translation?.map((way) => way * 3.7) as [number, number, number],
    }));
    const curves = rest.curves.map((curve) => ({
      ...curve,
      node: `n${rest.nodes.findIndex(({ id }) => id === curve.node)}`,
      keys: curve.channel.startsWith("translation")
        ? curve.keys.map((key) => [key[0], (key[1] as number) * 3.7, ...key.slice(2)] as typeof key)
        : curve.keys,
    }));
    const guessed = studyOf(shotFrom({ ...rest, nodes, curves }), settings);
    expect(heldOf(guessed).map(({ strength }) => strength.kind)).not.toContain("true-fall");
  });
});

test("no strength stands where a major note does, whatever is done to the keys", () => {
  const text = readFileSync(new URL("../../../demo/shots/quay_0070_v2.curves.json", import.meta.url), "utf8");
  const { shot } = readShot(text);
  if (shot === null) throw new Error("the demo shot cannot be read");
  const edit = fc.record({
    curve: fc.nat(),
    key: fc.nat(),
    by: fc.double({ min: -60, max: 60, noNaN: true }),
  });
  let [spoiled, kept] = [0, 0];
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 3 }), (edits) => {
      const edited = edits.reduce((before, { curve: c, key: k, by }) => {
        const curve = before.curves[c % before.curves.length];
        const key = k % curve.frames.length;
        const { node, channel } = curve;
        const value = curve.values[key] + by;
        return editShot(before, [{ kind: "set", node, channel, frame: curve.frames[key], value }]);
      }, shot);
      const study = studyOf(edited, settings);
      const all = allStrengthsOf(study);
      for (const strength of all) expect(against(study, strength)).toEqual([]);
      if (notesOf(study).some(({ tier }) => tier === "major")) spoiled++;
      kept += all.length;
      expect(figuresOf(study).length).toBe(1);
    }),
    { numRuns: 8 },
  );
  // The edits do bring major notes, and do leave something that holds.
  expect(Math.min(spoiled, kept)).toBeGreaterThan(0);
});
