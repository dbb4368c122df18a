import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import { cleanShots, describeKinds } from "./faults-proof.ts";
import type { FaultKind, KeyedCurve, KeyedShot, Vector } from "./types.d.ts";

const { pathFaults } = (await load("faults/paths.mjs")) as { pathFaults: FaultKind[] };
const { bringEnd } = await load("faults/tools/solve.mjs");
const { chainEnd, channelsOf } = await load("faults/tools/local.mjs");
const { moversIn, curvesOf } = await load("faults/tools/where.mjs");

const shots = cleanShots("paths", 6);
describeKinds(pathFaults, shots, ["retraced path", "straight path"]);

describe("bringing a limb's end to a place", () => {
  test("turns the limb's own joints until it is there", () => {
    for (const { shot } of shots) {
      const channels = channelsOf(shot);
      const arm = moversIn(shot).find(
        ({ part, joints }: { part: string; joints: string[] }) => part === "arm" && joints.length > 1,
      );
      if (arm === undefined) continue;
      const curves: KeyedCurve[] = arm.joints.flatMap((joint: string) => curvesOf(shot as KeyedShot, joint));
      if (curves.filter(({ channel }) => channel.startsWith("rotation")).length < 4) continue;
      const frame = channels.first + 20;
      const end: Vector = chainEnd(channels, channels, arm.lever, arm.joints, frame);
      const target = end.map((value, k) => value * (k === 0 ? 0.95 : 0.97));
      const { missed } = bringEnd(channels, arm.lever, curves, frame, target);
      expect(missed).toBeLessThan(0.02 * arm.figure.body.stature);
    }
  });
});
