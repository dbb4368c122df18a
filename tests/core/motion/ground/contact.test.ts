import { describe, expect, test } from "vitest";
import type { Study } from "../../../../packages/core/base/study.ts";
import { impactsOf } from "../../../../packages/core/motion/body/impact.ts";
import {
  bodyContactAt,
  contactsOf,
  groundOf,
  nodeContactAt,
  surfacesOf,
} from "../../../../packages/core/motion/ground/contact.ts";
import { plantedContactsOf } from "../../../../packages/core/motion/ground/contact-plants.ts";
import { standingsOf } from "../../../../packages/core/motion/ground/standing.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { minimumJerkPosition } from "../../../support/minimum-jerk.ts";
import {
  along,
  bipedDocument,
  bipedFigure,
  documentOf,
  everyFrame,
  studyOf,
  type Vector,
} from "../../../support/shots.ts";

/** A figure whose feet hang on its top node, so that a step is said by the paths of its feet. */
const freeFeet = [
  { id: "place" },
  { id: "hips", parent: "place", translation: [0, 0.95, 0] as Vector as [number, number, number] },
  { id: "foot_l", parent: "place", translation: [0.1, 0.09, 0] as [number, number, number] },
  { id: "toes_l", parent: "foot_l", translation: [0, -0.07, 0.14] as [number, number, number] },
  { id: "foot_r", parent: "place", translation: [-0.1, 0.09, 0] as [number, number, number] },
  { id: "toes_r", parent: "foot_r", translation: [0, -0.07, 0.14] as [number, number, number] },
];
const walker = {
  id: "walker",
  stature: 1.7,
  parts: { root: "place", leftFoot: "foot_l", leftToes: "toes_l", rightFoot: "foot_r", rightToes: "toes_r" },
};

const cycle = 1;
const stance = 0.6;
const stride = 1.4;

/** A foot that stands for 0.6 s and swings for 0.4 s by 1.4 m, 12 cm high; `phase` of a cycle ahead. */
function walkingFoot(seconds: number, phase: number, side: number): Vector {
  const turns = Math.floor(seconds / cycle + phase);
  const at = (seconds / cycle + phase - turns) * cycle;
  const swing = Math.max(0, (at - stance) / (cycle - stance));
  const lift = 0.12 * Math.sin(Math.PI * swing);
  return [side, 0.09 + lift, stride * (turns + minimumJerkPosition(swing))];
}

function walk(rate: number, lift = 0): Study {
  const last = 3 * rate;
  const foot = (side: number, phase: number) => (frame: number) => {
    const [x, y, z] = walkingFoot(frame / rate, phase, side);
    return [x, y + lift, z] as const;
  };
  const curves = {
    ...along("hips", 0, last, (frame) => [0, 0.95 + lift, (stride * frame) / rate]),
    ...along("foot_l", 0, last, foot(0.1, 0)),
    ...along("foot_r", 0, last, foot(-0.1, 0.5)),
  };
  return studyOf(documentOf(freeFeet, curves, { rate, more: { figures: [walker] } }));
}

const nodeIn = (study: Study, id: string) => rigOf(study).indexOf.get(id) ?? -1;

describe("contacts that are inferred", () => {
  test.each([24, 30, 120])("a walk at %i Hz has the plants that it was made of", (rate) => {
    const study = walk(rate);
    const left = contactsOf(study, 0).filter(({ node }) => node === nodeIn(study, "foot_l"));
    // Plants of 0.6 s from 0, 1 and 2 s, and the first moment of the next one.
    expect(left.length).toBeGreaterThanOrEqual(3);
    left.slice(0, 3).forEach(({ from, to, declared, surface }, i) => {
      // The swing starts and ends softly: 0.05 s of it are still slow and low.
      expect(Math.abs(from / rate - i)).toBeLessThan(0.08);
      expect(Math.abs(to / rate - (i + stance))).toBeLessThan(0.08);
      expect(declared).toBe(false);
      expect(surface.id).toBe("ground");
    });
    expect(bodyContactAt(study, 0).every((value) => value === 1)).toBe(true);
  });

  test.each([24, 120])("at %i Hz the ground is where the feet stand, wherever that is", (rate) => {
    for (const lift of [0, -3, 12.5]) {
      const study = walk(rate, lift);
      expect(groundOf(study).height).toBeCloseTo(0.02 + lift, 2);
      expect(standingsOf(study, 0).get(nodeIn(study, "foot_l"))?.level).toBeCloseTo(0.07, 2);
      expect(contactsOf(study, 0).length).toBe(contactsOf(walk(rate), 0).length);
    }
  });

  test.each([0.05, -0.05])(
    "a foot that is %f m off all through takes neither ground nor soles with it",
    (by) => {
      const curves = {
        ...along("foot_l", 1, 24, () => [0.1, 0.09 + by, 0]),
        ...along("foot_r", 1, 24, () => [-0.1, 0.09, 0]),
      };
      const study = studyOf(documentOf(freeFeet, curves, { range: [1, 24], more: { figures: [walker] } }));
      expect(groundOf(study).height).toBeCloseTo(0.02, 6);
      const ankle = standingsOf(study, 0).get(nodeIn(study, "foot_l"));
      expect(ankle?.known).toBe(true);
      expect(ankle?.level).toBeCloseTo(0.07, 6);
    },
  );

  test("a rest pose that stands where no foot ever does says nothing of the ground", () => {
    for (const { known } of standingsOf(walk(24, 12.5), 0).values()) expect(known).toBe(false);
  });

  test("a rest pose on which feet stand for a while is the ground, though they stand on a ledge for much longer", () => {
    // 60 frames on a ledge, and 10 on the floor on which the rest pose stands.
    const height = (frame: number) => 0.09 + (frame <= 60 ? 0.5 : frame > 64 ? 0 : 0.125 * (64 - frame));
    const curves = {
      ...along("foot_l", 1, 74, (frame) => [0.1, height(frame), 0]),
      ...along("foot_r", 1, 74, (frame) => [-0.1, height(frame), 0]),
    };
    const study = studyOf(documentOf(freeFeet, curves, { range: [1, 74], more: { figures: [walker] } }));
    expect(groundOf(study).height).toBeCloseTo(0.02, 6);
    expect(standingsOf(study, 0).get(nodeIn(study, "foot_l"))?.known).toBe(true);
  });

  test("a declared contact is planted from the pose of step keys that shows it", () => {
    const posed = (up: number) => ({
      interpolation: "step" as const,
      keys: [
        [1, 0.09],
        [11, 0.09 + up],
        [21, 0.09],
        [41, 0.09],
      ] as [number, number][],
    });
    for (const [up, from] of [
      [0.1, 20],
      [0, 17],
    ]) {
      const document = documentOf(
        freeFeet,
        { "foot_l translation.y": posed(up) },
        {
          range: [1, 41],
          more: {
            figures: [walker],
            surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0.02 }],
            contacts: [{ node: "foot_l", with: "floor", frames: [18, 40] }],
          },
        },
      );
      const study = studyOf(document);
      const own = plantedContactsOf(study, 0).filter(
        ({ contact }) => contact.node === nodeIn(study, "foot_l"),
      );
      expect(own.map(({ plants }) => plants)).toEqual([[{ from, to: 39 }]]);
    }
  });

  test("a planted node is planted where its contacts are", () => {
    const study = walk(24);
    const node = nodeIn(study, "foot_r");
    const planted = nodeContactAt(study, node);
    const covered = new Set<number>();
    for (const { from, to, node: at } of contactsOf(study, 0)) {
      if (at === node) for (let i = from; i <= to; i++) covered.add(i);
    }
    planted.forEach((value, i) => {
      expect(value === 1).toBe(covered.has(i));
    });
    expect(nodeContactAt(study, nodeIn(study, "hips")).some((value) => value === 1)).toBe(false);
  });

  test("a walk has no impacts of the whole body", () => {
    expect(impactsOf(walk(24), 0).some((value) => value === 1)).toBe(false);
  });

  test.each([1, 2, 3])("a biped that stands for %i frames stands on all its points", (count) => {
    const study = studyOf(bipedDocument({}, { range: [1, count] }));
    const contacts = contactsOf(study, 0);
    expect(contacts.map(({ point }) => point).sort()).toEqual(["heel", "heel", "toe", "toe"]);
    for (const contact of contacts) expect(contact).toMatchObject({ from: 0, to: count - 1, landing: 0 });
  });
});

describe("a drop", () => {
  // Falls from 0.5 m over the floor, lands on frame 8.7 or so, stands.
  const height = (frame: number) => Math.max(0, 0.5 - 0.5 * 9.80665 * (frame / 24) ** 2);
  const study = studyOf(bipedDocument(along("hips", 0, 24, (frame) => [0, 0.95 + height(frame), 0])));
  const landing = 8;

  test("lands with the speed of its fall", () => {
    expect(height(landing - 1)).toBeGreaterThan(0);
    expect(height(landing)).toBe(0);
    const contacts = contactsOf(study, 0);
    expect(contacts.length).toBeGreaterThanOrEqual(4);
    for (const contact of contacts) {
      expect(contact.from).toBe(landing);
      expect(contact.to).toBe(24);
      // √(2·g·0.5 m) = 3.13 m/s; the last whole frame before the landing is a little slower.
      expect(contact.landing).toBeGreaterThan(2.4);
      expect(contact.landing).toBeLessThan(3.2);
    }
  });

  test("is an impact of the whole body, for a frame on either side", () => {
    const impacts = impactsOf(study, 0);
    expect([...impacts].flatMap((value, i) => (value === 1 ? [i] : []))).toEqual([7, 8, 9]);
  });
});

describe("a fall on the back", () => {
  test("is an impact though no foot lands; lying down softly is none", () => {
    const at = (height: (frame: number) => number) => {
      const curves = {
        "hips rotation.x": [[0, -90]] as [number, number][],
        "hips translation.y": everyFrame(0, 24, height),
      };
      const impacts = impactsOf(studyOf(bipedDocument(curves)), 0);
      return [...impacts].flatMap((value, i) => (value === 1 ? [i] : []));
    };
    const dropped = at((frame) => Math.max(0.1, 0.6 - 0.5 * 9.80665 * (frame / 24) ** 2));
    // Falls by 0.5 m within 7.66 frames.
    expect(dropped).toContain(8);
    expect(dropped.length).toBeLessThanOrEqual(5);
    expect(at((frame) => 0.6 - 0.5 * minimumJerkPosition(frame / 24))).toEqual([]);
  });
});

describe("what is declared", () => {
  test("surfaces come in metres and y up", () => {
    const surfaces = [
      { id: "floor", normal: [0, 0, 2] as [number, number, number], height: 50 },
      { id: "wall", normal: [0, -1, 0] as [number, number, number], height: 300 },
      { id: "none", normal: [0, 0, 0] as [number, number, number], height: 1 },
    ];
    const document = bipedDocument({}, { range: [1, 3], more: { surfaces } });
    const study = studyOf({ ...document, space: { metresPerUnit: 0.01, up: "z" } });
    expect(surfacesOf(study)).toEqual([
      { id: "floor", normal: [0, 1, -0], height: 0.5, declared: true },
      { id: "wall", normal: [0, 0, 1], height: 3, declared: true },
    ]);
    expect(groundOf(study).id).toBe("floor");
  });

  test.each(["x", "y", "z"] as const)(
    "a surface without a normal faces straight up, also where that is %s",
    (up) => {
      const document = bipedDocument(
        {},
        { range: [1, 3], more: { surfaces: [{ id: "floor", height: 50 }] } },
      );
      const [floor] = surfacesOf(studyOf({ ...document, space: { metresPerUnit: 0.01, up } }));
      expect(floor.height).toBe(0.5);
      expect(floor.normal.map((number) => number + 0)).toEqual([0, 1, 0]);
    },
  );

  test("a surface that a node carries is no plane that stands still, and edges bound none yet", () => {
    const surfaces = [
      { id: "lift", height: 2, node: "hips" },
      {
        id: "floor",
        height: 0,
        edges: [
          [-1, -1],
          [1, 1],
        ] as [number, number][],
      },
    ];
    const study = studyOf(bipedDocument({}, { range: [1, 3], more: { surfaces } }));
    expect(surfacesOf(study).map(({ id }) => id)).toEqual(["floor"]);
    const alone = studyOf(bipedDocument({}, { range: [1, 3], more: { surfaces: surfaces.slice(0, 1) } }));
    expect(groundOf(alone)).toMatchObject({ id: "ground", declared: false });
  });

  test("of two floors the feet stand on the one that is under them", () => {
    const surfaces = [
      { id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0 },
      { id: "table", normal: [0, 1, 0] as [number, number, number], height: 0.8 },
    ];
    const curves = { "hips translation.y": [[1, 1.75]] as [number, number][] };
    const study = studyOf(bipedDocument(curves, { range: [1, 12], more: { surfaces } }));
    expect(new Set(contactsOf(study, 0).map(({ surface }) => surface.id))).toEqual(new Set(["table"]));
  });

  test("a figure that floats over the declared floor stands on nothing", () => {
    const curves = { "hips translation.y": [[1, 1.1]] as [number, number][] };
    const study = studyOf(bipedDocument(curves, { range: [1, 12] }));
    expect(contactsOf(study, 0)).toEqual([]);
    expect(bodyContactAt(study, 0).some((value) => value === 1)).toBe(false);
  });

  test("a contact holds for its frames, and its node has no other", () => {
    const contacts = [
      { node: "hand_l", frames: [3, 5] as [number, number], with: "rail" },
      { node: "foot_l", frames: [4, 40] as [number, number], slides: true },
      { node: "foot_r", frames: [90, 99] as [number, number] },
      { node: "nobody", frames: [1, 2] as [number, number] },
    ];
    const study = studyOf(bipedDocument({}, { range: [1, 12], more: { contacts } }));
    const declared = contactsOf(study, 0).filter((contact) => contact.declared);
    expect(declared).toMatchObject([
      {
        node: nodeIn(study, "hand_l"),
        point: "whole",
        from: 2,
        to: 4,
        slides: false,
        surface: { id: "rail" },
      },
      {
        node: nodeIn(study, "foot_l"),
        point: "heel",
        from: 3,
        to: 11,
        slides: true,
        surface: { id: "floor" },
      },
    ]);
    const nodes = contactsOf(study, 0).map(({ node }) => node);
    expect(nodes.filter((node) => node === nodeIn(study, "foot_l"))).toHaveLength(1);
    expect(nodes.filter((node) => node === nodeIn(study, "foot_r"))).toHaveLength(1);
    expect(nodes.filter((node) => node === nodeIn(study, "toes_l"))).toHaveLength(1);
  });

  test("a contact with one surface leaves the others to be found", () => {
    const surfaces = [
      { id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0 },
      { id: "table", normal: [0, 1, 0] as [number, number, number], height: 0.8 },
    ];
    const contacts = [{ node: "foot_l", frames: [3, 9] as [number, number], with: "table" }];
    const down = [
      [1, 1.75],
      [12, 1.75],
      [16, 0.95],
      [30, 0.95],
    ] as [number, number][];
    const study = studyOf(
      bipedDocument({ "hips translation.y": down }, { range: [1, 30], more: { surfaces, contacts } }),
    );
    const left = contactsOf(study, 0).filter(({ node }) => node === nodeIn(study, "foot_l"));
    expect(left.map(({ surface, declared }) => [surface.id, declared])).toEqual([
      ["table", true],
      ["floor", false],
    ]);
    expect(left[0]).toMatchObject({ from: 2, to: 8 });
  });

  test("hands carry only where it is said", () => {
    const study = studyOf(
      bipedDocument(
        { "hips translation.y": [[1, 0.1]] },
        { range: [1, 12], more: { figures: [bipedFigure] } },
      ),
    );
    const hands = ["hand_l", "hand_r"].map((id) => nodeIn(study, id));
    expect(contactsOf(study, 0).some(({ node }) => hands.includes(node))).toBe(false);
  });
});
