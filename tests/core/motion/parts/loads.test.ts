import { describe, expect, test } from "vitest";
import type { Shot } from "../../../../packages/core/document/model.ts";
import { shotOf } from "../../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { withHeld } from "../../../../packages/core/faults/props/shared/held-motions.ts";
import {
  eased,
  everyFrame,
  motionDocument,
  standing,
  standingHips,
} from "../../../../packages/core/faults/shared/examples/motions.ts";
import { withLoads } from "../../../../packages/core/motion/body/common-centre.ts";
import { massCentreOf } from "../../../../packages/core/motion/body/mass-centre.ts";
import {
  bodyMassOf,
  commonCentreOf,
  heavyShare,
  loadsOf,
} from "../../../../packages/core/motion/parts/loads.ts";
import { worldOf } from "../../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { defaultSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { notesOfCheck } from "../../../support/shots.ts";

/** What a body carries, from when, and where its mass and that of its loads is together. */

const studied = (document: CurveDocument) => studyOf(shotOf(document).shot as Shot, defaultSettings([]));

/** A body that leans forward by some metres, and brings up a crate from frame 20 to 40 with its left hand, at arm's length. */
function lifting(mass: number, lean = 0): CurveDocument {
  const bare = motionDocument(
    {
      first: 1,
      last: 90,
      hips: (frame) => [0, standingHips, eased(12, 30, 0, lean)(frame)],
      left: () => standing("left"),
      right: () => standing("right"),
    },
    {},
    {
      "upper_arm_l rotation.y": everyFrame(1, 90, () => -85),
      "upper_arm_l rotation.z": everyFrame(1, 90, eased(20, 40, -60, -8)),
      "upper_arm_l rotation.x": everyFrame(1, 90, () => 0),
    },
  );
  return withHeld(bare, [1, 90], {
    node: "crate",
    path: (frame, hand) => hand.point(frame, [0.08, 0, 0]),
    prop: { mass, heldBy: [{ node: "hand_l", frames: [10, 90] }] },
  });
}

describe("a load", () => {
  test("hangs on who lifts it from a quarter of a second before it leaves its place, more and more", () => {
    const study = studied(lifting(12));
    const [{ share }, ...others] = loadsOf(study, 0);
    expect(others).toEqual([]);
    const whole = 12 / bodyMassOf(study, 0);
    expect(share[8]).toBe(0);
    expect(share[12]).toBe(0);
    expect(share[18]).toBeGreaterThan(0);
    expect(share[18]).toBeLessThan(whole);
    for (let i = 26; i < 90; i++) expect(share[i]).toBeCloseTo(whole, 12);
    for (let i = 1; i < 90; i++) expect(share[i]).toBeGreaterThanOrEqual(share[i - 1]);
  });

  test("counts from a declared mass of 3 kg for 70 on", () => {
    const own = bodyMassOf(studied(lifting(12)), 0);
    expect(loadsOf(studied(lifting(0.99 * heavyShare * own)), 0)).toEqual([]);
    expect(loadsOf(studied(lifting(1.01 * heavyShare * own)), 0)).toHaveLength(1);
  });

  test("brings the common centre of mass to itself by its share of both masses", () => {
    const study = studied(lifting(20));
    const own = bodyMassOf(study, 0);
    const [body, both] = [massCentreOf(study, 0), commonCentreOf(study, 0)];
    const load = worldOf(study, loadsOf(study, 0)[0].thing).position;
    for (let k = 3 * 60; k < 3 * 90; k++)
      expect(both[k]).toBeCloseTo((own * body[k] + 20 * load[k]) / (own + 20), 9);
    // Before it is taken, all there is is the body.
    for (let k = 0; k < 30; k++) expect(both[k]).toBe(body[k]);
  });

  test("leaves a body that carries nothing its own centre, without a copy", () => {
    const study = studied(lifting(0.5));
    expect(commonCentreOf(study, 0)).toBe(massCentreOf(study, 0));
    const own = Float64Array.of(1, 2, 3);
    expect(withLoads(own, [], () => own)).toBe(own);
  });

  test("weighs at the hands of each of two bodies that bear it together, by half, and at its own place where one lets go", () => {
    const plank = (helperUntil: number) => {
      const document = lifting(20);
      const helper = (id: string) => `helper_${id}`;
      const nodes = document.nodes
        .filter(({ id }) => id !== "crate")
        .map((node) => ({
          ...node,
          id: helper(node.id),
          ...(node.parent === undefined || node.parent === null ? {} : { parent: helper(node.parent) }),
        }));
      const curves = document.curves
        .filter(({ node }) => node !== "crate")
        .map((curve) => ({ ...curve, node: helper(curve.node) }));
      const held = { node: helper("hand_l"), frames: [10, helperUntil] as [number, number] };
      const props = document.props?.map((prop) => ({ ...prop, heldBy: [...(prop.heldBy ?? []), held] }));
      return studied({
        ...document,
        nodes: [...document.nodes, ...nodes],
        curves: [...document.curves, ...curves],
        props,
      });
    };
    const both = plank(90);
    const [{ share, at, thing }] = loadsOf(both, 0);
    expect(at).toEqual([rigOf(both).indexOf.get("hand_l")]);
    expect(loadsOf(both, 1)[0].at).toEqual([rigOf(both).indexOf.get("helper_hand_l")]);
    expect(share[80]).toBeCloseTo(20 / bodyMassOf(both, 0) / 2, 12);
    const hand = worldOf(both, at[0]).position;
    const body = massCentreOf(both, 0);
    const common = commonCentreOf(both, 0);
    for (let k = 3 * 70; k < 3 * 90; k++)
      expect(common[k]).toBeCloseTo((body[k] + share[80] * hand[k]) / (1 + share[80]), 9);
    expect(loadsOf(plank(30), 0)[0].at).toEqual([thing]);
  });

  test("pulls a body over that a light thing leaves standing, and lets it lean back", () => {
    const notes = (mass: number, lean: number) => notesOfCheck(lifting(mass, lean), "off-balance");
    expect(notes(1, 0.06)).toEqual([]);
    expect(notes(30, 0.06)).not.toEqual([]);
    expect(notes(30, -0.1)).toEqual([]);
  });
});
