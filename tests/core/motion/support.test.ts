import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { birdDocument } from "../../../packages/core/faults/shared/examples/birds.ts";
import { beatStartsOf } from "../../../packages/core/motion/body/beat-start.ts";
import { brakesIn, freeFallsOf, liftAt } from "../../../packages/core/motion/body/free-fall.ts";
import { groundDemandOf } from "../../../packages/core/motion/body/ground-demand.ts";
import { propulsorsOf } from "../../../packages/core/motion/body/propulsors.ts";
import { groundOf } from "../../../packages/core/motion/ground/contact.ts";
import { plantedContactsOf } from "../../../packages/core/motion/ground/contact-plants.ts";
import { footPlantsOf, hipsOf } from "../../../packages/core/motion/ground/foot-plant.ts";
import {
  footAxesAt,
  legLean,
  soleTilts,
  turnBetween,
} from "../../../packages/core/motion/ground/foot-roll.ts";
import { farthestApart, squaredAlong, stepAlong } from "../../../packages/core/motion/ground/slide.ts";
import { lowestOf, soleHeights } from "../../../packages/core/motion/ground/sole-heights.ts";
import { solePathOf } from "../../../packages/core/motion/ground/sole-path.ts";
import { bodySupportAt, supportContactsOf } from "../../../packages/core/motion/ground/support.ts";
import { bendOf, limbReachOf, limbsOf, stretchOf } from "../../../packages/core/rig/limb.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import {
  g,
  jump,
  jumpDocument,
  jumpWithHips,
  motionDocument,
  rolled,
  standing,
  walkDocument,
} from "../../support/bodies.ts";
import { eased, studyOf } from "../../support/shots.ts";

const up = [0, 1, 0] as const;

describe("slide", () => {
  test("lengths in a surface leave out what goes off it", () => {
    const path = Float64Array.of(0, 0, 0, 3, 7, 4);
    expect(squaredAlong(path, 0, 1, up)).toBeCloseTo(25, 12);
    expect(stepAlong(path, 1, up)).toBeCloseTo(5, 12);
    // On a slope of 45° a step straight up goes along it by 1/√2.
    const slope = [0, Math.SQRT1_2, Math.SQRT1_2] as const;
    expect(stepAlong(Float64Array.of(0, 0, 0, 0, 1, 0), 1, slope)).toBeCloseTo(Math.SQRT1_2, 12);
  });

  test("the farthest samples of a line that goes out and back, without the stands at its ends", () => {
    const x = [0, 0, 0, 1, 2, 3, 4, 4, 4, 2, 2];
    const path = Float64Array.from(x.flatMap((value) => [value, 0, 0]));
    const { travel, apart, between } = farthestApart(path, { from: 0, to: 10 }, up);
    expect(travel).toBe(4);
    expect(apart.from).toBe(0);
    expect(between).toEqual({ from: 2, to: 6 });
  });
});

describe("sole", () => {
  test("stays where it is while the foot rolls over its ball, and the ankle does not", () => {
    const pitch = eased(10, 30, 0, 30);
    const study = studyOf(
      motionDocument({
        first: 1,
        last: 40,
        hips: () => [0, 0.86, 0],
        left: (frame) => rolled("left", 0, pitch(frame)),
        right: () => standing("right"),
      }),
    );
    const ball = rigOf(study).indexOf.get("toes_l") as number;
    const path = solePathOf(study, ball);
    for (let i = 0; i < 40; i++) {
      expect(path[3 * i + 1]).toBeCloseTo(0, 3);
      expect(path[3 * i + 2]).toBeCloseTo(0.14, 3);
    }
    const [stance] = footPlantsOf(study, 0).filter(({ leg }) => leg.side === "left");
    const tilts = soleTilts(study, stance);
    // "Flat" counts samples up to 7 mm over the lowest one, which is a fraction of a degree.
    expect(tilts[0]).toBeLessThan((0.5 * Math.PI) / 180);
    expect(Math.abs((tilts[tilts.length - 1] * 180) / Math.PI - 30)).toBeLessThan(0.5);
    const turn = turnBetween(study, stance.leg.end, 0, 39);
    expect(Math.hypot(...turn)).toBeCloseTo(Math.PI / 6, 2);
    const axes = footAxesAt(study, stance, 0);
    expect(axes?.forward[2]).toBeCloseTo(1, 6);
    expect(Math.abs(turn[0])).toBeCloseTo(Math.PI / 6, 2);
    expect(legLean(study, stance, stance.leg.root, axes, 0)).toBeCloseTo(0, 6);
  });
});

describe("plants and support", () => {
  test("a walk stands on one foot after the other, and each point is planted within its contact", () => {
    const study = studyOf(walkDocument());
    const sides = footPlantsOf(study, 0).map(({ leg }) => leg.side);
    expect(sides).toEqual(["left", "right", "left", "right", "left", "right", "left"]);
    for (const { contact, plants } of plantedContactsOf(study, 0)) {
      for (const { from, to } of plants) {
        expect(from).toBeGreaterThanOrEqual(contact.from);
        expect(to).toBeLessThanOrEqual(contact.to);
      }
    }
    expect(bodySupportAt(study, 0).every((value) => value === 1)).toBe(true);
  });

  test("a declared contact of an ankle alone carries for as long as its plant lasts; a ball's ends as it says", () => {
    const { takeOff, landing } = jump();
    const hasToes = (name: string) => /toes/i.test(name);
    const supportWith = (document: CurveDocument, ends: readonly string[]) =>
      bodySupportAt(
        studyOf({
          ...document,
          contacts: ends.map((node) => ({ node, frames: [1, takeOff - 4] as [number, number] })),
        }),
        0,
      );
    const document = jumpDocument();
    const ankles: CurveDocument = {
      ...document,
      nodes: document.nodes.filter(({ id }) => !hasToes(id)),
      curves: document.curves.filter(({ node }) => !hasToes(node)),
      figures: document.figures?.map((figure) => ({
        ...figure,
        parts: Object.fromEntries(Object.entries(figure.parts ?? {}).filter(([part]) => !hasToes(part))),
      })),
    };
    const alone = supportWith(ankles, ["foot_l", "foot_r"]);
    expect(alone[takeOff - 1]).toBe(1);
    expect(alone.subarray(takeOff, landing - 2).includes(1)).toBe(false);
    const both = supportWith(document, ["foot_l", "foot_r", "toes_l", "toes_r"]);
    expect(both[takeOff - 5]).toBe(1);
    expect(both[takeOff - 4]).toBe(0);
  });

  test("what a hand carries does not carry the body, a rail does", () => {
    const { takeOff, landing } = jump();
    const contacts = [{ node: "hand_l", with: "crate", frames: [1, 70] as [number, number] }];
    const held = (moves: boolean) => {
      const document = jumpDocument();
      const keys: [number, number][] = [
        [1, 1],
        [70, moves ? 2 : 1],
      ];
      return studyOf({
        ...document,
        nodes: [...document.nodes, { id: "crate", translation: [0.9, 1.4, 0] }],
        curves: [...document.curves, { node: "crate", channel: "translation.z", keys }],
        contacts,
      });
    };
    const middle = (takeOff + landing) / 2 - 1;
    expect(bodySupportAt(held(true), 0)[middle]).toBe(0);
    expect(bodySupportAt(held(false), 0)[middle]).toBe(1);
    expect(supportContactsOf(held(false), 0).some(({ declared }) => declared)).toBe(true);
  });
});

describe("free fall", () => {
  test("a jump falls with gravity, and nothing drives it in the air", () => {
    const study = studyOf(jumpDocument());
    const [fall, ...others] = freeFallsOf(study, 0);
    expect(others).toEqual([]);
    expect(fall).toMatchObject({ startsOnGround: true, endsOnGround: true, reach: 1 });
    expect(fall.own).toBeCloseTo(-g, 2);
    expect(brakesIn(fall, 0.35 * g, 1 / 24)).toEqual([]);
  });

  test("a stop in the air is a stretch with the speed that it gains", () => {
    const { heightKeys, landing, motion } = jump({ height: 0.54 });
    const height = (frame: number) => motion.hips(frame)[1];
    const frame = landing - 4;
    const study = studyOf(
      jumpWithHips({ height: 0.54 }, [
        ...heightKeys.slice(0, 3),
        [frame, height(frame), height(frame + 0.5) - height(frame - 0.5)],
        [landing, height(frame), 0],
        ...heightKeys.slice(4),
      ]),
    );
    const [brake] = brakesIn(freeFallsOf(study, 0)[0], 0.35 * g, 1 / 24);
    expect(brake.from).toBe(frame - 1);
    expect(brake.gained).toBeGreaterThan(0.5);
  });

  test("the second difference of a parabola is its acceleration at any reach", () => {
    const path = Float64Array.from({ length: 33 }, (_, k) =>
      k % 3 === 1 ? 0.5 * 3 * (Math.floor(k / 3) / 24) ** 2 : 0,
    );
    for (const reach of [1, 2, 4]) expect(liftAt(path, 5, reach, 1 / 24)).toBeCloseTo(3, 9);
  });

  test("a seated body does not fall", () => {
    const document = motionDocument({
      first: 1,
      last: 48,
      hips: () => [0, 1.2, 0],
      left: () => ({ at: [0.1, 0.6, 0.3] }),
      right: () => ({ at: [-0.1, 0.6, 0.3] }),
    });
    expect(freeFallsOf(studyOf(document), 0)).toEqual([]);
  });
});

describe("limbs", () => {
  test("bend and stretch follow the law of cosines", () => {
    const study = studyOf(walkDocument());
    const [leg] = limbsOf(study, 0);
    expect(leg).toMatchObject({ side: "left", kind: "leg" });
    expect(leg.upper).toBeCloseTo(0.42, 9);
    const reaches = Float64Array.of(0.84, Math.SQRT2 * 0.42, 0.42);
    expect([...stretchOf(reaches, leg)].map((value) => value.toFixed(6))).toEqual([
      "1.000000",
      "0.707107",
      "0.500000",
    ]);
    const bends = [...bendOf(reaches, leg)].map((angle) => (angle * 180) / Math.PI);
    expect(bends[0]).toBeCloseTo(0, 4);
    expect(bends[1]).toBeCloseTo(90, 6);
    expect(bends[2]).toBeCloseTo(120, 6);
    expect(limbReachOf(study, leg.root, leg.end)[0]).toBeLessThan(0.84);
  });
});

describe("clearance", () => {
  test("feet that stand are at nought over the floor, whatever the ankle's height", () => {
    const study = studyOf(walkDocument());
    for (const foot of soleHeights(study, 0, groundOf(study))) {
      const lowest = lowestOf(foot);
      expect(Math.min(...lowest)).toBeGreaterThan(-0.003);
      expect(lowest.filter((height) => Math.abs(height) < 0.003).length).toBeGreaterThan(24);
    }
  });
});

describe("footing", () => {
  test("a still body presses under its centre of mass and needs no friction", () => {
    const document = motionDocument({
      first: 1,
      last: 24,
      hips: () => [0, 0.9, 0.05],
      left: () => standing("left"),
      right: () => standing("right"),
    });
    const footing = groundDemandOf(studyOf(document), 0);
    const moving = footing.extrapolated(10);
    const pressed = footing.zeroMoment(10);
    expect(pressed?.[0]).toBeCloseTo(moving[0], 9);
    expect(pressed?.[1]).toBeCloseTo(moving[1], 9);
    expect(footing.friction(10)).toBeCloseTo(0, 9);
    expect(footing.steady.every((value) => value === 1)).toBe(true);
    expect(footing.seated.every((value) => value === 0)).toBe(true);
    expect(footing.nearFeet(10, [0.1, 0])).toBeLessThan(1e-6);
  });

  test("a body that is pushed with half of its weight needs a friction of a half", () => {
    const path = (frame: number) => 0.5 * (g / 2) * ((frame - 1) / 24) ** 2;
    const document = motionDocument({
      first: 1,
      last: 24,
      hips: (frame) => [0, 0.86, path(frame)],
      left: (frame) => standing("left", path(frame)),
      right: (frame) => standing("right", path(frame)),
    });
    expect(groundDemandOf(studyOf(document), 0).friction(12)).toBeCloseTo(0.5, 3);
  });
});

describe("propulsors", () => {
  const motion = {
    first: 1,
    last: 60,
    body: () => [0, 2, 0] as const,
    wings: (frame: number) => (frame < 30 ? 0 : 40 * Math.sin(((frame - 30) / 8) * 2 * Math.PI)),
  };

  test("declared ones give their channel in radians, wings of the body map their elevation", () => {
    const [declared] = propulsorsOf(studyOf(birdDocument(motion)), 0);
    expect(declared.declared).toBe(true);
    expect(declared.series[31]).toBeCloseTo((40 * Math.PI) / 180, 6);
    const [wing] = propulsorsOf(studyOf(birdDocument(motion, { declares: false })), 0);
    expect(wing.declared).toBe(false);
    // The wing's end stands a little behind its root: 0.36 m out and 0.02 m back.
    expect(wing.series[31]).toBeCloseTo((Math.sin((40 * Math.PI) / 180) * 0.36) / Math.hypot(0.36, 0.02), 3);
    expect(propulsorsOf(studyOf(jumpDocument()), 0)).toEqual([]);
    expect(rigOf(studyOf(birdDocument(motion))).ids[hipsOf(studyOf(birdDocument(motion)), 0)]).toBe("body");
  });

  test("a beat starts after its pause, and at no other stroke", () => {
    const [{ series }] = propulsorsOf(studyOf(birdDocument(motion)), 0);
    expect(beatStartsOf(series, 8)).toEqual([29]);
    expect(beatStartsOf(series.subarray(30), 8)).toEqual([]);
    expect(beatStartsOf(new Float64Array(0), 8)).toEqual([]);
    expect(beatStartsOf(new Float64Array(40), 8)).toEqual([]);
  });
});
