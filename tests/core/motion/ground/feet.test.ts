import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { contactsOf } from "../../../../packages/core/motion/ground/contact.ts";
import { footCountOf, footPointsOf } from "../../../../packages/core/motion/ground/feet.ts";
import { isFootByShape, standingsOf } from "../../../../packages/core/motion/ground/standing.ts";
import { figuresOf } from "../../../../packages/core/rig/body.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import {
  along,
  bipedDocument,
  bipedFigure,
  documentOf,
  notesOfCheck,
  studyOf,
  type Vector,
} from "../../../support/shots.ts";

type Offset = [number, number, number];

/** How high the ends of legs hang under a body that is 0.4 m over the floor: 1 cm over it. */
const drop = -0.39;

/** A body on some legs, each a strut and its point, in two rows; the ends go by the paths that are given. */
function onLegs(
  legs: number,
  path: (leg: number, frame: number) => Vector,
  more: Partial<CurveDocument> = {},
) {
  const nodes = [{ id: "body", translation: [0, 0.4, 0] as Offset }];
  const limbs = Array.from({ length: legs }, (_, leg) => {
    const side = leg % 2 === 0 ? 0.2 : -0.2;
    return [
      { id: `strut_${leg}`, parent: "body", translation: [side, 0, 0.15 * (leg >> 1)] as Offset },
      { id: `point_${leg}`, parent: `strut_${leg}`, translation: [side, drop, 0] as Offset },
    ];
  });
  const curves = Array.from({ length: legs }, (_, leg) =>
    along(`point_${leg}`, 1, 60, (frame) => {
      const [x, y, z] = path(leg, frame);
      return [(leg % 2 === 0 ? 0.2 : -0.2) + x, drop + y, z];
    }),
  );
  return documentOf([...nodes, ...limbs.flat()], Object.assign({}, ...curves), { range: [1, 60], more });
}

/** Two sets of legs that take turns: ten frames up, ten frames down. */
const march = (leg: number, frame: number): Vector => {
  const at = (frame + (leg % 4 < 2 ? 0 : 10)) % 20;
  return [0, at < 10 ? 0.1 * Math.sin((Math.PI * at) / 10) : 0, 0];
};

const curvesAlong = (node: string, path: (frame: number) => Vector) =>
  documentOf([], along(node, 1, 60, path)).curves;

const floor = { surfaces: [{ id: "floor", height: 0 }] };

describe("feet by what they do", () => {
  test.each([4, 6, 8])("each of %i legs that march has one", (legs) => {
    for (const more of [{}, floor]) {
      const study = studyOf(onLegs(legs, march, more));
      expect(footCountOf(study, 0)).toBe(legs);
      for (let leg = 0; leg < legs; leg++) {
        const node = rigOf(study).indexOf.get(`point_${leg}`);
        expect(contactsOf(study, 0).filter((contact) => contact.node === node).length).toBeGreaterThan(1);
      }
    }
  });

  test("legs that stand once have one where the body moves over them, and none where they hang still", () => {
    // Down by 6 cm and up again on still points, then off; without the crouch nothing tells a leg from what hangs down.
    const goes = (crouch: number) => (frame: number) =>
      frame < 30 ? -crouch * Math.sin((Math.PI * frame) / 30) : 0.02 * (frame - 30);
    const standing = (crouch: number) => {
      const body = goes(crouch);
      const document = onLegs(2, (_, frame) => [0, frame < 30 ? -body(frame) : 0, 0]);
      return {
        ...document,
        curves: [...document.curves, ...curvesAlong("body", (frame) => [0, 0.4 + body(frame), 0])],
      };
    };
    expect(footCountOf(studyOf(standing(0.06)), 0)).toBe(2);
    expect(footCountOf(studyOf(standing(0.005)), 0)).toBe(0);
  });

  test("fins are none, whatever they rest on", () => {
    const { nodes, curves, ...rest } = onLegs(4, march);
    const finned = (id: string) => id.replace("strut", "fin").replace("point", "fin_tip");
    const document = {
      ...rest,
      nodes: nodes.map(({ id, parent, ...node }) => ({
        ...node,
        id: finned(id),
        ...(parent === undefined ? {} : { parent: finned(parent) }),
      })),
      curves: curves.map((curve) => ({ ...curve, node: finned(curve.node) })),
    };
    expect(footPointsOf(studyOf(document), 0)).toEqual([]);
  });

  test("an end that never rests is none", () => {
    const circling = fc.record({
      legs: fc.integer({ min: 1, max: 8 }),
      radius: fc.double({ min: 0.05, max: 0.3, noNaN: true }),
      turns: fc.double({ min: 0.8, max: 3, noNaN: true }),
      phase: fc.double({ min: 0, max: 6, noNaN: true }),
      declares: fc.boolean(),
    });
    fc.assert(
      fc.property(circling, ({ legs, radius, turns, phase, declares }) => {
        const path = (leg: number, frame: number): Vector => {
          const angle = (2 * Math.PI * turns * frame) / 24 + phase * leg;
          return [0, radius * (1 + Math.sin(angle)), radius * Math.cos(angle)];
        };
        const study = studyOf(onLegs(legs, path, declares ? floor : {}));
        expect(footPointsOf(study, 0)).toEqual([]);
        expect(contactsOf(study, 0)).toEqual([]);
      }),
      { numRuns: 30 },
    );
  });

  test("a body that lies on the floor has none", () => {
    const nodes = Array.from({ length: 8 }, (_, link) => ({
      id: `link_${link}`,
      ...(link === 0 ? {} : { parent: `link_${link - 1}` }),
      translation: (link === 0 ? [0, 0.02, 0] : [0, 0, 0.2]) as Offset,
    }));
    const study = studyOf(documentOf(nodes, {}, { range: [1, 48], more: floor }));
    expect(footPointsOf(study, 0)).toEqual([]);
  });

  /** A body on one leg that hops: its end stands 9 cm over the floor at rest, on a bone of 40 cm. */
  const hopper = (by: number) => {
    const up = (frame: number) => (frame % 20 < 10 ? 0.2 * Math.sin((Math.PI * (frame % 10)) / 10) : 0);
    const nodes = [
      { id: "body", translation: [0, 0.69, 0] as Offset },
      { id: "shin", parent: "body", translation: [0, -0.2, 0] as Offset },
      { id: "end", parent: "shin", translation: [0, -0.4, 0] as Offset },
      { id: "neck", parent: "body", translation: [0, 0.2, 0] as Offset },
      { id: "head", parent: "neck", translation: [0, 0.2, 0] as Offset },
    ];
    const curves = along(
      "body",
      1,
      60,
      (frame): Vector => [0, 0.69 + up(frame) + (frame > 30 && frame < 40 ? by : 0), 0],
    );
    return documentOf(nodes, curves, { range: [1, 60], more: floor });
  };

  test("a hopper stands on its one end, whose sole is no thicker than half of the bone above it", () => {
    const study = studyOf(hopper(0));
    expect(footPointsOf(study, 0).map(({ node }) => rigOf(study).ids[node])).toEqual(["end"]);
    expect([...standingsOf(study, 0).values()]).toEqual([{ level: expect.closeTo(0.09, 9), known: true }]);
    expect(notesOfCheck(hopper(0), "through-ground")).toEqual([]);
    expect(notesOfCheck(hopper(-0.04), "through-ground").length).toBeGreaterThan(0);
  });

  test("a caterpillar that arches stands on both of its ends, before the head too", () => {
    // It lies on the floor at rest and goes with its middle up; each end stands while the other one moves.
    const links = (side: "front" | "rear", sign: number) =>
      [1, 2, 3].map((link) => ({
        id: `${side}_${link}`,
        parent: link === 1 ? "middle" : `${side}_${link - 1}`,
        translation: [0, 0, 0.2 * sign] as Offset,
      }));
    const nodes = [
      { id: "middle", translation: [0, 0.02, 0] as Offset },
      ...links("front", 1),
      { id: "head", parent: "front_3", translation: [0, 0.01, 0.1] as Offset },
      ...links("rear", -1),
    ];
    const way = (frame: number, half: number) => {
      const [whole, part] = [Math.floor(frame / 24), (frame % 24) / 12 - half];
      return 0.2 * (whole + Math.min(1, Math.max(0, part)));
    };
    const middle = (frame: number) => (way(frame, 0) + way(frame, 1)) / 2;
    const curves = Object.assign(
      {},
      along("middle", 1, 96, (frame): Vector => [0, 0.22, middle(frame)]),
      along("front_3", 1, 96, (frame): Vector => [0, -0.2, 0.2 + way(frame, 0) - middle(frame)]),
      along("rear_3", 1, 96, (frame): Vector => [0, -0.2, -0.2 + way(frame, 1) - middle(frame)]),
    );
    const study = studyOf(documentOf(nodes, curves, { range: [1, 96], more: floor }));
    expect(footPointsOf(study, 0).map(({ node }) => rigOf(study).ids[node])).toEqual(["front_3", "rear_3"]);
  });

  test.each([
    ["off-ground", 0.04],
    ["through-ground", -0.04],
  ])("%s is said of one of six feet", (check, by) => {
    const document = onLegs(
      6,
      (leg, frame) => {
        const [x, y, z] = march(leg, frame);
        return [x, leg === 5 && frame > 20 && frame < 42 ? y + by : y, z];
      },
      floor,
    );
    const notes = notesOfCheck(document, check);
    expect(notes.length).toBeGreaterThan(0);
    for (const { node, measured } of notes) {
      expect(node).toBe("point_5");
      expect(measured.value).toBeCloseTo(0.04, 3);
    }
    expect(notesOfCheck(onLegs(6, march, floor), check)).toEqual([]);
  });

  test("ends that stand equally high at rest share how they stand: the lower pair says nothing of the higher one", () => {
    // The first pair stands as at rest, the second one 8 mm lower, as paws do that are turned otherwise than at rest.
    const low = (leg: number, frame: number): Vector => {
      const [x, y, z] = march(leg, frame);
      return [x, y - (leg > 1 ? 0.008 : 0), z];
    };
    const document = onLegs(4, low, floor);
    const nodes = document.nodes.map((node) =>
      node.id === "point_2" || node.id === "point_3"
        ? { ...node, translation: [node.translation?.[0] ?? 0, drop + 0.002, 0] as Offset }
        : node,
    );
    const study = studyOf({ ...document, nodes });
    const level = (id: string) => standingsOf(study, 0).get(rigOf(study).indexOf.get(id) ?? -1)?.level;
    expect(level("point_0")).toBeCloseTo(0.01, 6);
    expect(level("point_2")).toBeCloseTo(0.002, 6);
  });

  test("a sole that is declared is as thick as that", () => {
    const limbs = (["l", "r"] as const).map((side) => ({
      id: `leg ${side}`,
      kind: "leg" as const,
      nodes: [`thigh_${side}`, `shin_${side}`, `foot_${side}`],
      sole: { ball: `toes_${side}`, thickness: 0.05 },
    }));
    const figures = [{ ...bipedFigure, limbs }];
    const study = studyOf(bipedDocument({}, { range: [1, 12], more: { figures } }));
    const points = footPointsOf(study, 0);
    expect(points.map(({ node }) => rigOf(study).ids[node])).toEqual(["toes_l", "toes_r"]);
    for (const { node } of points) {
      expect(standingsOf(study, 0).get(node)).toEqual({ level: 0.05, known: true });
    }
  });

  test("are no more than a guess by the shape of a body that does not stand on them in the rest pose", () => {
    const arms = (["l", "r"] as const).flatMap(
      (side): { id: string; parent: string; translation: Offset }[] => {
        const x = side === "l" ? 0.05 : -0.05;
        return [
          { id: `crank_${side}`, parent: "boiler", translation: [x, 0.05, 0] },
          { id: `piston_${side}`, parent: `crank_${side}`, translation: [0, -0.08, 0] },
          { id: `grab_${side}`, parent: `piston_${side}`, translation: [0, -0.08, 0] },
          { id: `grab_end_${side}`, parent: `grab_${side}`, translation: [0, -0.03, 0] },
        ];
      },
    );
    const robot = documentOf(
      [
        { id: "tin", translation: [0, 0.03, 0] },
        { id: "boiler", parent: "tin", translation: [0, 0.1, 0] },
        { id: "dome", parent: "boiler", translation: [0, 0.08, 0] },
        { id: "aerial", parent: "dome", translation: [0, 0.08, 0] },
        ...arms,
      ],
      along("tin", 1, 48, (frame) => [0, 0.03, 0.005 * frame]),
      { range: [1, 48], more: floor },
    );
    const study = studyOf(robot);
    const foot = (of: typeof study, id: string) => isFootByShape(of, 0, rigOf(of).indexOf.get(id) ?? -1);
    expect(figuresOf(study)[0].parts.get("leftFoot")).toBeDefined();
    expect(foot(study, "grab_end_l")).toBe(true);
    const named = studyOf(bipedDocument({}, { range: [1, 12], more: floor }));
    expect(foot(named, "foot_l")).toBe(false);
  });
});
