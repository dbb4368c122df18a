import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import { cleanShots, describeKinds, triedIn } from "./faults-proof.ts";
import type { FaultKind, Poses } from "./types.d.ts";

const { dataFaults } = (await load("faults/data.mjs")) as { dataFaults: FaultKind[] };
const { posesOf } = await load("poses.mjs");
const kindOf = (name: string) => dataFaults.find((kind) => kind.name === name)!;

const shots = cleanShots("data", 6);
describeKinds(dataFaults, shots, ["gimbal trouble"]);

describe("what is seen of it", () => {
  test.each(["rotation flip", "turn read back in other angles"])(
    "%s: every pose but those on the way is the same",
    (name) => {
      for (const { clean, place, faulty } of triedIn(shots, kindOf(name))) {
        const poses: Poses = posesOf(faulty[1]);
        const { first, last } = clean.shot.performance;
        for (let frame = first; frame <= last; frame++) {
          if (frame > place.from && frame < place.to) continue;
          const [a, b] = [poses, clean.twin].map((each) => each.orientation(place.joint, frame));
          const likeness = Math.abs(a.reduce((sum, value, k) => sum + value * b[k], 0));
          expect(likeness).toBeGreaterThan(0.9999);
        }
      }
    },
  );

  test.each(["crowded keys", "idle curve"])("%s: nothing", (name) => {
    for (const { clean, faulty } of triedIn(shots, kindOf(name))) {
      const poses: Poses = posesOf(faulty[2]);
      const { first, last, figures } = clean.shot.performance;
      for (const { id } of figures.flatMap(({ body }) => body.joints)) {
        for (let frame = first; frame <= last; frame += 7) {
          const [p, q] = [poses.position(id, frame), clean.twin.position(id, frame)];
          expect(Math.hypot(...p.map((value, k) => value - q[k]))).toBeLessThan(1e-4);
        }
      }
    }
  });

  test("overshoot: nothing on the two keys, all between them", () => {
    for (const { clean, place, faulty } of triedIn(shots, kindOf("overshoot of a held part"))) {
      const poses: Poses = posesOf(faulty[2]);
      for (const frame of [place.from, place.to]) {
        const [p, q] = [poses, clean.twin].map((each) =>
          each.channel(place.joint, place["channel"] as never, frame),
        );
        expect(p).toBeCloseTo(q, 6);
      }
    }
  });
});
