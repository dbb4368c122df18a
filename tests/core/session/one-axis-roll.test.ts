import { expect, test } from "vitest";
import { shotOf } from "../../../packages/core/document/read.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { FixSession } from "../../../packages/core/session/proving.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { type Foot, motionDocument, rolled, standing } from "../../support/bodies.ts";
import { eased } from "../../support/shots.ts";

/** A wide lunge to the left whose right foot rolls over its ball like a hinge, and leaves the ground. */
function lunge(rate: number) {
  const pitch = eased(12, 26, 0, 40);
  const lift = eased(28, 36, 0, 0.2);
  const over = eased(10, 28, 0, 0.15);
  const right = (frame: number): Foot => {
    const foot = rolled("right", 0, pitch(frame));
    return { ...foot, at: [-0.25, foot.at[1] + lift(frame), foot.at[2]], yaw: 0 };
  };
  const left = () => standing("left", 0, 0.25);
  return motionDocument(
    { first: 1, last: 48, hips: (frame) => [over(frame), 0.82, 0], left, right },
    { rate },
  );
}

test.each([24, 60])("a hinge-like roll in a wide stance is fixed at %s frames per second", (rate) => {
  const { shot } = shotOf(lunge(rate));
  if (shot === null) throw new Error("The document is no shot.");
  const session = new FixSession(shot, resolveSettings(registry));
  const [note] = session.notes.filter(({ check }) => check === "one-axis-roll");
  const proven = session.prove(note);
  expect(proven?.gone).toContain(note);
  expect(new Set(proven?.changes.map(({ node }) => node))).toContain("foot_r");
  if (proven !== null) session.make(proven);
  expect(session.notes.map(({ check }) => check)).not.toContain("one-axis-roll");
});
