import { describe, expect, test } from "vitest";
import type { KeyEdit } from "../../../packages/core/document/edit.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import type { WalkOptions } from "../../../packages/core/faults/shared/examples/motions.ts";
import { walk } from "../../../packages/core/faults/shared/examples/motions.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { passingGroundOf } from "../../../packages/core/rig/passing-ground.ts";
import { worldOf } from "../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { guessesOf } from "../../../packages/core/rig/verdict.ts";
import { ShotSession } from "../../../packages/core/session/shot-session.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { type Foot, type Motion, motionDocument, standing } from "../../support/bodies.ts";

const study = (document: CurveDocument) => {
  const { shot, problems } = shotOf(document);
  if (shot === null) throw new Error(JSON.stringify(problems));
  return studyOf(shot, resolveSettings(registry));
};

/** The same motion, as it is seen by who goes along with it at some metres per frame. */
function inPlace(motion: Motion, speed: number): Motion {
  const back = (frame: number) => speed * (frame - motion.first);
  const foot =
    (of: (frame: number) => Foot) =>
    (frame: number): Foot => {
      const own = of(frame);
      return { ...own, at: [own.at[0], own.at[1], own.at[2] - back(frame)] };
    };
  return {
    ...motion,
    hips: (frame) => {
      const [x, y, z] = motion.hips(frame);
      return [x, y, z - back(frame)];
    },
    left: foot(motion.left),
    right: foot(motion.right),
  };
}

const brisk: WalkOptions = { stepLength: 0.6, stepFrames: 12 };
const speedOf = ({ stepLength = 0.5, stepFrames = 12 }: WalkOptions) => stepLength / stepFrames;
const told = (document: CurveDocument) =>
  notesOf(study(document)).map(({ check, node, frames, tier }) => ({ check, node, frames, tier }));

describe("the ground passes under", () => {
  test("a walk in place, as fast as its feet go back", () => {
    const document = motionDocument(inPlace(walk(brisk), speedOf(brisk)));
    const [x, z] = passingGroundOf(study(document)) ?? [];
    // 0.6 m in half a second, told to 0.005 body heights of 1.7 m a second.
    expect(x).toBeCloseTo(0, 9);
    expect(Math.abs((z ?? 0) + 1.2)).toBeLessThanOrEqual(0.5 * 0.005 * 1.7 + 1e-9);
  });

  test.each([
    ["a brisk walk", brisk],
    ["a slow walk", { stepLength: 0.4, stepFrames: 18 }],
    ["one stride of a cycle", { ...brisk, steps: 2 }],
  ])("%s, which gets the notes of the same walk over the ground", (_, options: WalkOptions) => {
    const motion = walk(options);
    expect(told(motionDocument(inPlace(motion, speedOf(options))))).toEqual(told(motionDocument(motion)));
  });

  test("a walk in place whose foot slides, and that is told as over the ground", () => {
    const motion = walk(brisk);
    // The right foot stands on frames 9 to 17, and slides ahead by 6 cm from 11 to 15.
    const slides = (frame: number) => 0.06 * Math.min(1, Math.max(0, (frame - 11) / 4));
    const right = (frame: number): Foot => {
      const own = motion.right(frame);
      const on = frame >= 9 && frame <= 20 ? slides(frame) : 0;
      return { ...own, at: [own.at[0], own.at[1], own.at[2] + on] };
    };
    const faulty = { ...motion, right };
    const over = told(motionDocument(faulty));
    expect(over).toContainEqual(expect.objectContaining({ check: "contact-slide" }));
    expect(told(motionDocument(inPlace(faulty, speedOf(brisk))))).toEqual(over);
  });

  test("with a sentence that says so, and what ties the feet to the world instead", () => {
    const [sentence] = guessesOf(study(motionDocument(inPlace(walk(brisk), speedOf(brisk))))).slice(-1);
    expect(sentence).toContain("goes in place");
    expect(sentence).toContain("1.20 m/s");
    expect(sentence).toContain("declared contacts");
    expect(guessesOf(study(motionDocument(walk(brisk)))).join()).not.toContain("in place");
  });

  test("no walk that travels, nor who stands, and the world is then the document's", () => {
    expect(passingGroundOf(study(motionDocument(walk(brisk))))).toBe(null);
    const still = motionDocument({
      first: 1,
      last: 60,
      hips: (frame) => [0.02 * Math.sin(frame / 9), 0.9, 0],
      left: () => standing("left"),
      right: () => standing("right"),
    });
    expect(passingGroundOf(study(still))).toBe(null);
  });

  test("nothing that goes back with what stands in the world: declared contacts, or a prop", () => {
    const document = motionDocument(inPlace(walk(brisk), speedOf(brisk)));
    const floor = { surfaces: [{ id: "floor", height: 0 }] };
    const [foot] = document.nodes.filter(({ id }) => /foot|ankle/i.test(id));
    expect(passingGroundOf(study({ ...document, ...floor }))).not.toBe(null);
    const contacts = [{ node: foot.id, with: "floor", frames: [9, 12] as [number, number] }];
    expect(passingGroundOf(study({ ...document, ...floor, contacts }))).toBe(null);
  });

  test("feet that slide to and fro under who stays: they go both ways", () => {
    const to = (frame: number) => 0.2 * Math.sin(frame / 5);
    const foot = (side: "left" | "right", way: number) => (frame: number) => standing(side, way * to(frame));
    const shuffles = motionDocument({
      first: 1,
      last: 80,
      hips: () => [0, 0.85, 0],
      left: foot("left", 1),
      right: foot("right", -1),
    });
    expect(passingGroundOf(study(shuffles))).toBe(null);
  });

  test("the whole world with it: the hips of a walk in place travel against the ground", () => {
    const of = study(motionDocument(inPlace(walk(brisk), speedOf(brisk))));
    const { position } = worldOf(of, rigOf(of).indexOf.get("hips") ?? -1);
    const seconds = (position.length / 3 - 1) / 24;
    expect((position[position.length - 1] - position[2]) / seconds).toBeCloseTo(1.2, 1);
  });

  test("with live edits too: a session holds what a fresh check gives as the body begins to travel, and as a leg changes", () => {
    const { shot } = shotOf(motionDocument(inPlace(walk(brisk), speedOf(brisk))));
    if (shot === null) throw new Error("the document cannot be used");
    const session = new ShotSession(shot, resolveSettings(registry));
    const { node, channel, frames, values } = shot.curves.find(
      (curve) => curve.node === "hips" && curve.channel === "translation.z",
    ) as Shot["curves"][number];
    const fresh = () => notesOf(studyOf(session.shot, resolveSettings(registry)));
    // The last keys of the hips go ahead until the body counts as one that travels, and come back.
    for (const ahead of [0.05, 0.6, 0]) {
      const edits = [...frames].map((frame, k): KeyEdit => {
        return { kind: "set", node, channel, frame, value: values[k] + (ahead * k) / frames.length };
      });
      expect(session.edit(edits).problems).toEqual([]);
      expect(passingGroundOf(session.study) === null).toBe(ahead > 0.5);
      expect(session.notes).toStrictEqual(fresh());
    }
    const leg = shot.curves.find((curve) => /thigh_r|upper_leg_r/.test(curve.node)) as Shot["curves"][number];
    const turned = { node: leg.node, channel: leg.channel, frame: leg.frames[20] };
    session.edit([{ kind: "set", ...turned, value: leg.values[20] + 8 }]);
    expect(session.notes).toStrictEqual(fresh());
  });
});
