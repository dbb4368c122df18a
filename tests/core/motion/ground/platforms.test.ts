import { describe, expect, test } from "vitest";
import { contactsOf, surfacesOf } from "../../../../packages/core/motion/ground/contact.ts";
import { motionDocument, standing } from "../../../support/bodies.ts";
import { studyOf } from "../../../support/shots.ts";

/** Someone who is so much higher than the ground up to frame 40, goes down within ten frames, and stands there. */
const stepsDown = (high: number, sway = 0, more = {}) => {
  const up = (frame: number) => high * Math.min(1, Math.max(0, (50 - frame) / 10));
  const raised = (foot: ReturnType<typeof standing>, frame: number) => ({
    ...foot,
    at: [foot.at[0], foot.at[1] + up(frame) + sway * Math.sin(frame), foot.at[2]] as [number, number, number],
  });
  return motionDocument(
    {
      first: 1,
      last: 90,
      hips: (frame) => [0, 0.86 + up(frame) + sway * Math.sin(frame), 0],
      left: (frame) => raised(standing("left"), frame),
      right: (frame) => raised(standing("right"), frame),
    },
    { more },
  );
};

describe("levels on which somebody is seen to stand", () => {
  test("a ledge that nobody declares carries the feet that stand on it", () => {
    const study = studyOf(stepsDown(0.6));
    const [ground, ledge, ...others] = surfacesOf(study);
    expect(others).toEqual([]);
    expect(ledge.height - ground.height).toBeCloseTo(0.6, 3);
    const before = contactsOf(study, 0).filter(({ to }) => to < 50);
    expect(before.length).toBeGreaterThan(0);
    for (const { surface } of before) expect(surface.id).toBe(ledge.id);
  });

  test("feet that hover over the ground stand on none, nor do feet that move in the air", () => {
    expect(surfacesOf(studyOf(stepsDown(0.15)))).toHaveLength(1);
    expect(surfacesOf(studyOf(stepsDown(0.6, 0.1)))).toHaveLength(1);
  });
});
