import { describe, expect, test } from "vitest";
import { standardGravity } from "../../../packages/core/base/constants.ts";
import type { Study } from "../../../packages/core/base/study.ts";
import { editShot } from "../../../packages/core/document/edit.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { massCentreOf } from "../../../packages/core/motion/body/mass-centre.ts";
import { footPointsOf } from "../../../packages/core/motion/ground/feet.ts";
import { statureOf } from "../../../packages/core/rig/body.ts";
import { worldOf } from "../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { FixSession } from "../../../packages/core/session/proving.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { gridOf, sampleAt } from "../../../packages/core/time/grid.ts";
import { ankleHeight, type Foot, motionDocument, standing } from "../../support/bodies.ts";
import { eased } from "../../support/shots.ts";
import { faultOf } from "./faults.ts";
import { settings, shotFrom } from "./objections.ts";

/** A note of a check, and the shot after its fix, judged afresh. */
function fixed(document: CurveDocument, check: string): { readonly note: Note; readonly after: Study } {
  const shot = shotFrom(document);
  const session = new FixSession(shot, settings);
  const note = session.notes.find((one) => one.check === check);
  if (note === undefined) throw new Error(`There is no ${check}: ${session.notes.map((one) => one.check)}`);
  const proven = session.prove(note);
  if (proven?.kind !== "fix") throw new Error(session.whyNot(note) ?? "nothing said");
  return { note, after: studyOf(editShot(shot, proven.edits), settings) };
}

function samplesOf(study: Study, { frames }: Note): [number, number] {
  return [sampleAt(gridOf(study), frames[0]), sampleAt(gridOf(study), frames[1])];
}

/** In the air, seen by the feet alone, the centre of mass falls as bodies do: by its second differences. */
function expectFall(after: Study, note: Note): void {
  const centre = massCentreOf(after, 0);
  const { dt } = gridOf(after);
  const feet = footPointsOf(after, 0).map(({ node }) => worldOf(after, node).position);
  const inAir = (i: number) => feet.every((path) => path[3 * i + 1] > 0.14);
  const [first, last] = samplesOf(after, note);
  const falls: number[] = [];
  for (let i = first; i <= last; i++) {
    if (![i - 1, i, i + 1].every(inAir)) continue;
    const [a, b, c] = [i - 1, i, i + 1].map((k) => centre[3 * k + 1]);
    falls.push((2 * b - a - c) / (dt * dt));
  }
  expect(falls.length).toBeGreaterThan(2);
  const mean = falls.reduce((sum, one) => sum + one, 0) / falls.length;
  expect(Math.abs(mean / standardGravity - 1)).toBeLessThan(0.05);
}

/** Path of a node, metres. */
function pathOf(study: Study, node: string): Float64Array {
  return worldOf(study, rigOf(study).indexOf.get(node) ?? -1).position;
}

/** A body that shifts its weight while its right foot does what it is told. */
function stand(right: (frame: number) => Foot): CurveDocument {
  return motionDocument({
    first: 1,
    last: 72,
    hips: (frame) => [eased(8, 60, 0.02, 0.05)(frame), 0.86, 0],
    left: () => standing("left"),
    right,
  });
}

/** From 0 to 1 and back, between four frames. */
const during = (a: number, b: number, c: number, d: number) => (frame: number) =>
  eased(a, b, 0, 1)(frame) * (1 - eased(c, d, 0, 1)(frame));

describe("after a fix the law of the note itself is met", () => {
  test("a flight falls by gravity, within 5 % (standard gravity: CGPM 1901)", () => {
    const faults = (["keyed", "dense"] as const).flatMap((kind) => faultOf("hang-time", kind) ?? []);
    const mended = faults.flatMap(({ shot, note }) => {
      const proven = new FixSession(shot, settings).prove(note);
      return proven?.kind === "fix" ? { note, after: studyOf(editShot(shot, proven.edits), settings) } : [];
    });
    expect(mended.length).toBeGreaterThan(0);
    for (const { note, after } of mended) expectFall(after, note);
  });

  test("a foot that hovered, or went through the ground, touches it within 3 mm of a person of 1.7 m", () => {
    const feet: [string, number][] = [
      ["off-ground", 0.035],
      ["through-ground", -0.035],
    ];
    for (const [check, height] of feet) {
      const lift = during(18, 24, 44, 50);
      const { note, after } = fixed(
        stand((frame) => {
          const { at } = standing("right");
          return { at: [at[0], at[1] + height * lift(frame), at[2]] };
        }),
        check,
      );
      const path = pathOf(after, "foot_r");
      const limit = (0.003 / 1.7) * statureOf(after, 0);
      const [first, last] = samplesOf(after, note);
      for (let i = first; i <= last; i++)
        expect(Math.abs(path[3 * i + 1] - ankleHeight), `${check} at ${i}`).toBeLessThan(limit);
    }
  });

  test("a foot that slid stays within 3 mm of a person of 1.7 m", () => {
    const slide = eased(4, 68, 0, 1);
    const { note, after } = fixed(
      stand((frame) => {
        const { at } = standing("right");
        return { at: [at[0], at[1], at[2] + 0.06 * slide(frame)] };
      }),
      "contact-slide",
    );
    const path = pathOf(after, "foot_r");
    const limit = (0.003 / 1.7) * statureOf(after, 0);
    const [first, last] = samplesOf(after, note);
    for (let i = first; i <= last; i++)
      expect(Math.hypot(path[3 * i] - path[3 * first], path[3 * i + 2] - path[3 * first + 2])).toBeLessThan(
        limit,
      );
  });
});

test("a foot that slides, and stands on where it has come to, stays where it came down until it leaves", () => {
  const lift = (frame: number) => 0.1 * Math.sin(Math.PI * Math.min(1, Math.max(0, (frame - 70) / 14))) ** 2;
  const right = (frame: number): Foot => {
    const { at } = standing("right", eased(8, 20, 0, 0.06)(frame) + eased(70, 84, 0, 0.2)(frame));
    return { at: [at[0], at[1] + lift(frame), at[2]] };
  };
  const { note, after } = fixed(
    motionDocument({
      first: 1,
      last: 96,
      hips: (frame) => [0, 0.87 + 0.01 * Math.sin(frame / 9), eased(66, 90, 0, 0.12)(frame)],
      left: () => standing("left"),
      right,
    }),
    "contact-slide",
  );
  // Half a second beyond its note the foot still stands.
  expect(note.frames[1] + 12).toBeLessThan(60);
  const { indexOf } = rigOf(after);
  const { position } = worldOf(after, indexOf.get("foot_r") ?? 0);
  const [from, to] = [4, 66].map((frame) => sampleAt(gridOf(after), frame));
  for (let i = from; i <= to; i++)
    expect(Math.hypot(position[3 * i] + 0.1, position[3 * i + 2])).toBeLessThan(0.003);
  // What it does after the swing is as it was.
  expect(position[3 * 92 + 2]).toBeCloseTo(0.26, 3);
});
