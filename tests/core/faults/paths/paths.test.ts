import { describe, expect, test } from "vitest";
import { jumpDocument, walkDocument } from "../../../support/bodies.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  along,
  bipedDocument,
  bipedFigure,
  bipedNodes,
  type Curves,
  chainDocument,
  type DocumentOptions,
  documentOf,
  eased,
  everyFrame,
  type Keyed,
  notesOfCheck,
  pathDocument,
  pointDocument,
  type Vector,
} from "../../../support/shots.ts";

const retraced = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "retraced-path");
const straight = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "straight-path");
const kinked = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "kinked-path");

const swing = (frame: number) => eased(8, 24, 0, 1)(frame) - eased(28, 44, 0, 1)(frame);

/** The biped with its left hand cut loose from the arm: it is keyed by its own translation, as a hand on a target is. */
function freeHand(path: (frame: number) => Vector, options: DocumentOptions = {}, more: Curves = {}) {
  const nodes = bipedNodes.map((node) => (node.id === "hand_l" ? { ...node, parent: "hips" } : node));
  const curves = { ...along("hand_l", 1, 60, path), ...more };
  return documentOf(nodes, curves, {
    ...options,
    more: {
      figures: [bipedFigure],
      surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }],
      ...options.more,
    },
  });
}

describe("retraced-path", () => {
  test("finds an arm that one joint swings out and back, and the key at the turn", () => {
    const keys: Keyed = {
      interpolation: "smooth",
      keys: [
        [1, 0],
        [8, 0],
        [26, -70],
        [44, 0],
        [60, 0],
      ],
    };
    const notes = retraced(bipedDocument({ "upper_arm_l rotation.z": keys }));
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "hand_l", frames: [8, 44] });
    expect(notes[0].keys[0]).toMatchObject({ node: "upper_arm_l", channel: "rotation.z", frame: 26 });
  });

  test("finds it after the hand has rested, wherever it had been before", () => {
    const curves = {
      "forearm_l rotation.y": everyFrame(1, 90, (frame) => -80 * eased(4, 20, 0, 1)(frame)),
      "upper_arm_l rotation.z": everyFrame(1, 90, (frame) => -60 * swing(frame - 36)),
    };
    const notes = retraced(bipedDocument(curves));
    expect(notes).toMatchObject([{ node: "hand_l" }]);
    expect(notes[0].keys[0]).toMatchObject({ node: "upper_arm_l", channel: "rotation.z" });
    expect(notes[0].frames[0]).toBeGreaterThanOrEqual(44);
    expect(notes[0].frames[1]).toBeLessThanOrEqual(80);
  });

  test("names keys where the limb is keyed on every frame", () => {
    const curves = { "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -70 * swing(frame)) };
    expect(retraced(bipedDocument(curves))[0].keys[0]).toMatchObject({ node: "upper_arm_l" });
  });

  test("finds a foot that kicks out and back on one line", () => {
    const curves = {
      "hips translation.y": everyFrame(1, 60, () => 1.3),
      "thigh_r rotation.x": everyFrame(1, 60, (frame) => -70 * swing(frame)),
    };
    expect(retraced(bipedDocument(curves))).toMatchObject([{ node: "foot_r" }]);
  });

  test("counts turns that follow each other once", () => {
    const wave = (frame: number) => -30 + 30 * Math.cos((2 * Math.PI * frame) / 20);
    const notes = retraced(bipedDocument({ "upper_arm_r rotation.z": everyFrame(1, 80, wave) }));
    expect(notes).toHaveLength(1);
    expect(notes[0].message).toMatch(/comes back \d times on the same line/);
  });

  test("is silent where a second joint, two frames late, opens the way", () => {
    const curves = {
      "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -70 * swing(frame)),
      "upper_arm_l rotation.y": everyFrame(1, 60, (frame) => 25 * swing(frame - 4)),
      "forearm_l rotation.y": everyFrame(1, 60, (frame) => -40 * swing(frame - 3)),
    };
    expect(retraced(bipedDocument(curves))).toEqual([]);
  });

  test("is silent on a walk, on a jump, on a head that bows, on small moves and on a pendulum", () => {
    expect(retraced(walkDocument())).toEqual([]);
    expect(retraced(jumpDocument())).toEqual([]);
    const bow = bipedDocument({ "neck rotation.x": everyFrame(1, 60, (frame) => 60 * swing(frame)) });
    expect(retraced(bow)).toEqual([]);
    const small = bipedDocument({ "forearm_l rotation.y": everyFrame(1, 60, (frame) => -25 * swing(frame)) });
    expect(retraced(small)).toEqual([]);
    expect(retraced(pathDocument(1, 60, (frame) => [swing(frame), 0, 0]))).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const factor = rate === 60 ? 2.5 : 1;
    const curves = {
      "upper_arm_l rotation.z": everyFrame(1, 150, (frame) => -70 * swing(frame / factor)),
    };
    expect(retraced(bipedDocument(curves, { rate }))).toMatchObject([{ node: "hand_l" }]);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      const curves = { "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -70 * swing(frame)) };
      expect(retraced(bipedDocument(curves, scale))).toMatchObject([{ node: "hand_l" }]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("retraced-path");
  });
});

describe("straight-path", () => {
  const reach = eased(10, 30, 0, 1);
  const line = (frame: number): Vector => [0.4 + 0.2 * reach(frame), 0.1 + 0.5 * reach(frame), 0.3];
  const arc = (frame: number): Vector => {
    const angle = (Math.PI / 2) * reach(frame);
    return [0.3 + 0.4 * Math.sin(angle), 0.5 - 0.4 * Math.cos(angle), 0.2];
  };

  test("finds a hand that goes on a line between two keys, and names the keys", () => {
    const keys = (from: number, to: number): Keyed => ({
      interpolation: "smooth",
      keys: [
        [1, from],
        [10, from],
        [30, to],
        [60, to],
      ],
    });
    const nodes = bipedNodes.map((node) => (node.id === "hand_l" ? { ...node, parent: "hips" } : node));
    const document = documentOf(
      nodes,
      {
        "hand_l translation.x": keys(0.4, 0.6),
        "hand_l translation.y": keys(0.1, 0.6),
        "hand_l translation.z": keys(0.3, 0.3),
      },
      { more: { figures: [bipedFigure] } },
    );
    const notes = straight(document);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "hand_l" });
    expect(notes[0].keys[0]).toMatchObject({ node: "hand_l", channel: "translation.y", frame: 10 });
    expect(notes[0].message).toContain("moves 53.9 cm on a straight line");
  });

  test("finds it where a foot is keyed on every frame", () => {
    const nodes = bipedNodes.map((node) => (node.id === "foot_r" ? { ...node, parent: "hips" } : node));
    const document = documentOf(
      nodes,
      along("foot_r", 1, 60, (frame) => [-0.1, -0.5 + 0.2 * reach(frame), 0.6 * reach(frame)]),
      { more: { figures: [bipedFigure] } },
    );
    expect(straight(document)).toMatchObject([{ node: "foot_r" }]);
  });

  test("is silent on an arc, on a line that bows by a twentieth, and on an arm that swings", () => {
    expect(straight(freeHand(arc))).toEqual([]);
    const bowed = (frame: number): Vector => {
      const [x, y, z] = line(frame);
      return [x, y, z + 4 * 0.027 * reach(frame) * (1 - reach(frame))];
    };
    expect(straight(freeHand(bowed))).toEqual([]);
    const turn = everyFrame(1, 60, (frame) => -60 * reach(frame));
    expect(straight(bipedDocument({ "upper_arm_l rotation.z": turn }))).toEqual([]);
  });

  test("is silent on a hand that is carried, on one that slides in a contact, and on a walk", () => {
    const carried = bipedDocument({ "hips translation.z": everyFrame(1, 60, (frame) => 0.8 * reach(frame)) });
    expect(straight(carried)).toEqual([]);
    expect(straight(freeHand(line))).toHaveLength(1);
    const contacts = [{ node: "hand_l", with: "table", frames: [8, 32] as [number, number], slides: true }];
    expect(straight(freeHand(line, { more: { contacts } }))).toEqual([]);
    expect(straight(walkDocument())).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    expect(straight(freeHand(line, { rate }))).toMatchObject([{ node: "hand_l" }]);
    expect(straight(freeHand(arc, { rate }))).toEqual([]);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      expect(straight(freeHand(line, scale))).toMatchObject([{ node: "hand_l" }]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("straight-path");
  });
});

describe("kinked-path", () => {
  /** At an even speed to a point, and on at an angle. */
  const corner =
    (degrees: number, step = 0.05) =>
    (frame: number): Vector => {
      const angle = (degrees * Math.PI) / 180;
      const before = step * Math.min(frame, 30);
      const after = step * Math.max(0, frame - 30);
      return [before + after * Math.cos(angle), after * Math.sin(angle), 0];
    };

  test.each([70, 90, 140, 180])("finds a corner of %i° at its frame", (degrees) => {
    const notes = kinked(pathDocument(1, 60, corner(degrees)));
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ node: "point", frames: [30, 30] });
    expect(notes[0].measured.value).toBeCloseTo(degrees, 4);
  });

  /** A metre within 20 frames, eased, on a bend of 0.4 m radius; turns by further angles at given frames. */
  const bend = (corners: Readonly<Record<number, number>>) => {
    const gone = eased(18, 38, 0, 1);
    const points: Vector[] = [[0, 0, 0]];
    let more = 0;
    for (let frame = 1; frame < 60; frame++) {
      const step = gone(frame + 1) - gone(frame);
      more += ((corners[frame] ?? 0) * Math.PI) / 180;
      const angle = 2.5 * gone(frame) + more;
      const [x, y] = points[frame - 1];
      points.push([x + step * Math.cos(angle), y + step * Math.sin(angle), 0]);
    }
    return pathDocument(1, 60, (frame) => points[frame - 1]);
  };

  test("finds a corner in the middle of a bend that eases, which changes its velocity much all the way", () => {
    expect(kinked(bend({}))).toEqual([]);
    const notes = kinked(bend({ 28: 60 }));
    expect(notes).toMatchObject([{ frames: [28, 28] }]);
    expect(notes[0].measured.value).toBeGreaterThan(65);
    expect(notes[0].measured.value).toBeLessThan(80);
  });

  test("is silent on a turn that three frames share", () => {
    expect(kinked(bend({ 27: 20, 28: 65, 29: 20 }))).toEqual([]);
  });

  test("holds a corner in a burst against the burst, not against the calm around it", () => {
    // Every step of the burst is as long; its turns change from frame to frame by up to as much as the corner.
    const turns = [0, 0, 70, 0, -45, 40, -50];
    const points: Vector[] = [[0, 0, 0]];
    let angle = 0;
    for (let frame = 1; frame < 60; frame++) {
      const index = frame - 24;
      angle += ((turns[index] ?? 0) * Math.PI) / 180;
      const step = index >= 0 && index < turns.length ? 0.03 : 0.0001;
      const [x, y] = points[frame - 1];
      points.push([x + step * Math.cos(angle), y + step * Math.sin(angle), 0]);
    }
    expect(kinked(pathDocument(1, 60, (frame) => points[frame - 1]))).toEqual([]);
  });

  test("names the key of the corner", () => {
    const notes = kinked(
      pointDocument({
        "translation.x": [
          [1, 0],
          [60, 2],
        ],
        "translation.z": [
          [1, 0],
          [24, 1.2],
          [60, -0.6],
        ],
      }),
    );
    expect(notes).toMatchObject([{ frames: [24, 24] }]);
    expect(notes[0].keys[0]).toMatchObject({ node: "point", channel: "translation.z", frame: 24 });
  });

  test("finds it in the path of a hand, at the joint that turns back at speed", () => {
    const turn: [number, number][] = [
      [1, 0],
      [24, 80],
      [48, -10],
    ];
    const notes = kinked(chainDocument(2, { "joint_1 rotation.y": turn }));
    expect(notes).toMatchObject([{ node: "joint_1", frames: [24, 24] }]);
    expect(notes[0].keys[0]).toMatchObject({ node: "joint_1", channel: "rotation.y", frame: 24 });
  });

  test("is silent on arcs, on corners under the threshold, on slow ones and on a walk", () => {
    const circle = (frame: number): Vector => [0.3 * Math.cos(frame / 3), 0.3 * Math.sin(frame / 3), 0];
    expect(kinked(pathDocument(1, 60, circle))).toEqual([]);
    expect(kinked(pathDocument(1, 60, corner(50)))).toEqual([]);
    expect(kinked(pathDocument(1, 60, corner(90, 0.008)))).toEqual([]);
    expect(kinked(walkDocument())).toEqual([]);
    expect(kinked(jumpDocument())).toEqual([]);
  });

  test("is silent on a turn-round that slows down, and on a ball that bounces", () => {
    expect(kinked(pathDocument(1, 60, (frame) => [swing(frame), 0, 0]))).toEqual([]);
    const bounce = (frame: number): Vector => [0.04 * frame, Math.abs(1.5 - 0.05 * frame), 0];
    expect(kinked(pathDocument(1, 60, bounce))).toEqual([]);
    const ceiling = (frame: number): Vector => [0.04 * frame, -Math.abs(1.5 - 0.05 * frame), 0];
    expect(kinked(pathDocument(1, 60, ceiling))).toHaveLength(1);
  });

  test("is silent where a contact begins", () => {
    const strike = everyFrame(1, 60, (frame) => -3 * Math.min(frame, 30) + 3 * Math.max(0, frame - 30));
    const curves = { "upper_arm_l rotation.z": strike };
    expect(kinked(bipedDocument(curves)).length).toBeGreaterThan(0);
    const contacts = [{ node: "hand_l", with: "drum", frames: [30, 31] as [number, number] }];
    expect(kinked(bipedDocument(curves, { more: { contacts } }))).toEqual([]);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second", (rate) => {
    const step = rate === 60 ? 0.02 : 0.05;
    expect(kinked(pathDocument(1, 60, corner(90, step), { rate }))).toMatchObject([{ frames: [30, 30] }]);
  });

  test.each([{ unit: 0.01 }, { unit: 0.01, declaresUnit: false }])(
    "finds the same whatever the unit: %o",
    (scale) => {
      const turn: [number, number][] = [
        [1, 0],
        [24, 80],
        [48, -10],
      ];
      const notes = kinked(bipedDocument({ "upper_arm_l rotation.y": turn }, scale));
      expect(notes).toMatchObject([{ node: "upper_arm_l", frames: [24, 24] }]);
    },
  );

  test("has nothing to say where there is nothing", () => {
    expectQuietOnBarren("kinked-path");
  });
});
