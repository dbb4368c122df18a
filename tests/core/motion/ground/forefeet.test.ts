import { describe, expect, test } from "vitest";
import type { CurveDocument, NodeSpec } from "../../../../packages/core/document/schema.ts";
import { contactsOf } from "../../../../packages/core/motion/ground/contact.ts";
import { footCountOf, footPointsOf } from "../../../../packages/core/motion/ground/feet.ts";
import { supportContactsOf } from "../../../../packages/core/motion/ground/support.ts";
import { nodeNameOf } from "../../../../packages/core/notes/wording.ts";
import { figuresOf } from "../../../../packages/core/rig/body.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { along, documentOf, eased, notesOfCheck, studyOf, type Vector } from "../../../support/shots.ts";

/** What riggers call the segments of a foreleg, from the shoulder to the toes; S stands for the side. */
const habits = [
  ["fore_thigh_S", "fore_shin_S", "fore_paw_S", "fore_toes_S"],
  ["foreleg_upper_S", "foreleg_lower_S", "forefoot_S", "fore_toe_S"],
  ["fore_upper_S", "fore_lower_S", "fore_paw_S", "fore_toes_S"],
  ["front_upper_leg_S", "front_lower_leg_S", "front_paw_S", "front_toes_S"],
  ["upper_arm_S", "forearm_S", "hand_S", "fingers_S"],
] as const;
const declaredOnly = ["link_a_S", "link_b_S", "link_c_S", "link_d_S"] as const;

type Path = (foot: string, frame: number) => Vector;

/** Steps in place, each foot 12 of 24 frames in the air, diagonal pairs in turns. */
const trot: Path = (foot, frame) => {
  const at = (frame + (foot === "fore_l" || foot === "hind_r" ? 0 : 12)) % 24;
  return [0, at < 12 ? 0.1 * Math.sin((Math.PI * at) / 12) ** 2 : 0, 0];
};

/**
 * A dog of 0.6 m whose legs hang straight at rest, where its forefeet are 6 cm over the hind ones, as many rigs have
 * it. In the shot all feet stand 2 cm over the origin.
 */
function dog(fore: readonly string[], path: Path = trot, more: Partial<CurveDocument> = {}): CurveDocument {
  const nodes: NodeSpec[] = [
    { id: "pelvis", translation: [0, 0.6, 0] },
    { id: "spine", parent: "pelvis", translation: [0, 0, 0.2] },
    { id: "chest", parent: "spine", translation: [0, 0, 0.3] },
    { id: "neck", parent: "chest", translation: [0, 0.1, 0.1] },
    { id: "head", parent: "neck", translation: [0, 0.1, 0.15] },
  ];
  const curves = {};
  for (const [side, x] of [
    ["l", 0.1],
    ["r", -0.1],
  ] as const) {
    const [upper, lower, paw, toes] = fore.map((name) => name.replace("S", side));
    nodes.push(
      { id: `hind_thigh_${side}`, parent: "pelvis", translation: [x, 0, 0] },
      { id: `hind_shin_${side}`, parent: `hind_thigh_${side}`, translation: [0, -0.25, 0] },
      { id: `hind_foot_${side}`, parent: `hind_shin_${side}`, translation: [0, -0.2, 0] },
      { id: `hind_toes_${side}`, parent: `hind_foot_${side}`, translation: [0, -0.15, 0.02] },
      { id: upper, parent: "chest", translation: [x, -0.1, 0] },
      { id: lower, parent: upper, translation: [0, -0.2, 0] },
      { id: paw, parent: lower, translation: [0, -0.18, 0] },
      { id: toes, parent: paw, translation: [0, -0.06, 0.02] },
    );
    const moved = (node: string, foot: string, [x0, y0, z0]: Vector) =>
      along(node, 1, 96, (frame) => {
        const [dx, dy, dz] = path(`${foot}_${side}`, frame);
        return [x0 + dx, y0 + dy, z0 + dz];
      });
    Object.assign(
      curves,
      moved(`hind_foot_${side}`, "hind", [0, -0.18, 0]),
      moved(paw, "fore", [0, -0.22, 0]),
    );
  }
  return documentOf(nodes, curves, { range: [1, 96], more });
}

const asLimbs = (fore: readonly string[]) => ({
  figures: [
    {
      id: "pelvis",
      limbs: (["l", "r"] as const).map((side) => ({
        id: `fore ${side}`,
        kind: "leg" as const,
        nodes: fore.map((name) => name.replace("S", side)),
      })),
    },
  ],
});

/** The left forefoot is drawn along the floor by 3 cm while it stands, and swings back with its next step. */
const sliding: Path = (foot, frame) => {
  const [x, y, z] = trot(foot, frame);
  const way = frame < 48 ? eased(37, 46, 0, 0.03)(frame) : eased(49, 59, 0.03, 0)(frame);
  return [x, y, foot === "fore_l" ? z + way : z];
};

/** The right forefoot stands 3 cm high for a stand. */
const floating: Path = (foot, frame) => {
  const [x, y, z] = trot(foot, frame);
  return [x, foot === "fore_r" && frame >= 46 && frame <= 61 ? Math.max(y, 0.03) : y, z];
};

describe("forefeet", () => {
  test.each([
    ...habits.map((fore) => [fore.join(", "), fore, {}] as const),
    ["declared as legs, whatever they are called", declaredOnly, asLimbs(declaredOnly)] as const,
  ])("%s: stand, slide and float as hind feet do", (_, fore, more) => {
    const study = studyOf(dog(fore, trot, more));
    expect(footCountOf(study, 0)).toBe(4);
    const planted = new Set(contactsOf(study, 0).map(({ node }) => node));
    expect(planted).toEqual(new Set(footPointsOf(study, 0).map(({ node }) => node)));
    expect(new Set(supportContactsOf(study, 0).map(({ node }) => node))).toEqual(planted);
    for (const check of ["contact-slide", "off-ground", "through-ground"])
      expect(notesOfCheck(dog(fore, trot, more), check)).toEqual([]);

    const left = fore.map((name) => name.replace("S", "l"));
    const slides = notesOfCheck(dog(fore, sliding, more), "contact-slide");
    expect(slides.length).toBeGreaterThan(0);
    for (const { node } of slides) expect(left).toContain(node);

    const right = fore.map((name) => name.replace("S", "r"));
    const floats = notesOfCheck(dog(fore, floating, more), "off-ground");
    expect(floats.length).toBeGreaterThan(0);
    for (const { node } of floats) expect(right).toContain(node);
  });

  test("float beside a body that sits, whose hind legs may hang", () => {
    // The hind feet are so near to the hips that something may carry these.
    const sitting: Path = (foot, frame) => [
      0,
      foot.startsWith("hind") ? 0.25 : foot === "fore_r" ? eased(24, 36, 0, 0.03)(frame) : 0,
      0,
    ];
    const more = { surfaces: [{ id: "floor", height: 0 }] };
    const floats = notesOfCheck(dog(habits[2], sitting, more), "off-ground");
    expect(floats.map(({ node }) => node)).toEqual(["fore_toes_r"]);
  });

  test("are called what they are", () => {
    const study = studyOf(dog(habits[2]));
    const name = (id: string) => nodeNameOf(study, rigOf(study).indexOf.get(id) as number);
    expect(name("fore_upper_l")).toBe("left upper foreleg");
    expect(name("fore_lower_l")).toBe("left lower foreleg");
    expect(name("fore_paw_r")).toBe("right forefoot");
    expect(name("fore_toes_r")).toBe("right fore toes");
    expect(figuresOf(study)[0].parts.has("leftUpperArm")).toBe(true);
  });
});
