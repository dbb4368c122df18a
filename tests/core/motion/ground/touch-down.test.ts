import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { contactsOf } from "../../../../packages/core/motion/ground/contact.ts";
import { touchesOf } from "../../../../packages/core/motion/ground/touch-down.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { walkDocument } from "../../../support/bodies.ts";
import { studyOf } from "../../../support/shots.ts";

describe("where a foot comes down and leaves", () => {
  const inferred = studyOf(walkDocument());

  test("a contact that is inferred comes down at its first frame and leaves at its last", () => {
    for (const contact of contactsOf(inferred, 0)) {
      expect(touchesOf(inferred, 0, contact)).toEqual({ from: contact.from, to: contact.to });
    }
  });

  test("a declared contact that covers the middle of the stance alone: where the foot is stopped, and where it sets off", () => {
    const foot = rigOf(inferred).indexOf.get("foot_l");
    const plants = contactsOf(inferred, 0).filter(
      ({ node, from, to }) => node === foot && from > 0 && to - from > 8,
    );
    expect(plants.length).toBeGreaterThan(0);
    const contacts = plants.map(({ from, to }) => ({
      node: "foot_l",
      frames: [from + 5, to - 2] as [number, number],
    }));
    const study = studyOf(walkDocument({ more: { contacts } }));
    const declared = contactsOf(study, 0).filter((contact) => contact.declared);
    expect(declared).toHaveLength(plants.length);
    declared.forEach((contact, n) => {
      const touches = touchesOf(study, 0, contact);
      expect(Math.abs(touches.from - plants[n].from)).toBeLessThanOrEqual(2);
      expect(touches.to).toBeGreaterThanOrEqual(contact.to);
      // An inferred plant ends 5 cm over the ground, on the roll; a foot sets off hardest a little later.
      expect(touches.to).toBeLessThanOrEqual(plants[n].to + 3);
    });
  });

  test("a paw rolls off its declared stance though it is mapped as fingers", () => {
    const { nodes, ...walk } = walkDocument();
    const limb = nodes.filter(({ id }) => !id.startsWith("toes"));
    const foot = rigOf(inferred).indexOf.get("foot_l");
    const plant = contactsOf(inferred, 0).find(({ node, from }) => node === foot && from > 0);
    if (plant === undefined) throw new Error("The foot stands nowhere.");
    const contacts = [{ node: "foot_l", frames: [plant.from + 5, plant.to - 2] as [number, number] }];
    const touchOf = (parts: NonNullable<CurveDocument["figures"]>[number]["parts"]) => {
      const curves = walk.curves.filter(({ node }) => limb.some(({ id }) => id === node));
      const study = studyOf({
        ...walk,
        nodes: limb,
        curves,
        contacts,
        figures: [{ id: "animal", parts }],
      } as CurveDocument);
      const contact = contactsOf(study, 0).find(({ declared }) => declared);
      if (contact === undefined) throw new Error("The contact is lost.");
      return { contact, touches: touchesOf(study, 0, contact) };
    };
    const paws = (["left", "right"] as const).map((side) => ({
      [`${side}UpperArm`]: `thigh_${side[0]}`,
      [`${side}Forearm`]: `shin_${side[0]}`,
      [`${side}Fingers`]: `foot_${side[0]}`,
    }));
    const paw = touchOf({ root: "hips", ...paws[0], ...paws[1] });
    expect(paw.touches.to).toBeGreaterThan(paw.contact.to);
  });
});
