import { describe, expect, test } from "vitest";
import type { Study } from "../../../packages/core/base/study.ts";
import { causesOf } from "../../../packages/core/faults/cause.ts";
import type { Fault } from "../../../packages/core/faults/check.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedDocument, chainDocument, everyFrame, pointDocument, studyOf } from "../../support/shots.ts";

/** The fault of a node that is not where it was at the first sample of the window, at one sample. */
function away(study: Study, node: string, at: number): Fault {
  return {
    kind: "position",
    subject: rigOf(study).indexOf.get(node) as number,
    lo: at - 2,
    hi: at + 2,
    from: at,
    to: at,
    strength: (series) => Math.hypot(series[6] - series[0], series[7] - series[1], series[8] - series[2]),
  };
}

const spike = (value: number): [number, number][] => [
  [1, 0],
  [11, 0],
  [12, value],
  [13, 0],
  [24, 0],
];

describe("causing keys", () => {
  test("the key that makes all of a fault has all of its share", () => {
    const study = studyOf(pointDocument({ "translation.x": spike(0.1), "translation.y": [[1, 0]] }));
    const causes = causesOf(study, away(study, "point", 11));
    expect(causes).toHaveLength(1);
    expect(causes[0]).toMatchObject({ node: "point", channel: "translation.x", frame: 12, index: 2 });
    expect(causes[0].share).toBeCloseTo(1, 12);
  });

  test("two channels share a fault as they make it up: 3, 4 and 5", () => {
    const study = studyOf(pointDocument({ "translation.x": spike(0.3), "translation.y": spike(0.4) }));
    const causes = causesOf(study, away(study, "point", 11));
    // Without y, 0.3 of 0.5 is left; without x, 0.4 of it.
    expect(causes.map(({ channel }) => channel)).toEqual(["translation.y", "translation.x"]);
    expect(causes[0].share).toBeCloseTo(0.4, 12);
    expect(causes[1].share).toBeCloseTo(0.2, 12);
  });

  test("a joint far up the chain is found from its tip, and the joints between are not", () => {
    const study = studyOf(
      chainDocument(3, {
        "joint_1 rotation.z": spike(10),
        "joint_2 rotation.z": everyFrame(1, 24, () => 20),
        "joint_3 rotation.y": [
          [1, 0],
          [24, 0],
        ],
      }),
    );
    const causes = causesOf(study, away(study, "tip", 11));
    expect(causes).toHaveLength(1);
    expect(causes[0]).toMatchObject({ node: "joint_1", channel: "rotation.z", frame: 12 });
  });

  test("two channels that undo each other make no fault", () => {
    const study = studyOf(
      chainDocument(2, {
        "joint_1 translation.y": spike(0.1),
        "joint_2 translation.x": [[1, 0.3]],
        "joint_2 translation.y": spike(-0.1),
      }),
    );
    expect(causesOf(study, away(study, "tip", 11))).toEqual([]);
  });

  test("where no key stands in the fault, the keys around it are tried", () => {
    const keys: [number, number][] = [
      [1, 0],
      [8, 0],
      [16, 0.4],
      [24, 0.4],
    ];
    const study = studyOf(pointDocument({ "translation.x": keys }));
    const causes = causesOf(study, away(study, "point", 11));
    expect(causes.map(({ frame }) => frame)).toContain(16);
    for (const { frame } of causes) expect([8, 16]).toContain(frame);
  });

  test("an orientation is judged by the turns above it alone", () => {
    const study = studyOf(
      chainDocument(2, {
        "mount translation.y": spike(0.2),
        "joint_1 rotation.x": spike(15),
        "joint_2 rotation.x": everyFrame(1, 24, (frame) => frame),
      }),
    );
    const fault: Fault = {
      kind: "orientation",
      subject: rigOf(study).indexOf.get("tip") as number,
      lo: 9,
      hi: 13,
      from: 11,
      to: 11,
      // Turning about x alone, the angle of a sample is 2 · atan2(x, w); the second difference is what jumps.
      strength: (series) => {
        const angle = (i: number) => 2 * Math.atan2(series[4 * i], series[4 * i + 3]);
        return Math.abs(angle(1) - 2 * angle(2) + angle(3));
      },
    };
    const causes = causesOf(study, fault);
    expect(causes).toHaveLength(1);
    expect(causes[0]).toMatchObject({ node: "joint_1", channel: "rotation.x", frame: 12 });
    expect(causes[0].share).toBeCloseTo(1, 9);
  });

  test("a centre of mass that jumps is laid to what carries most of it", () => {
    const study = studyOf(
      bipedDocument({
        "hips translation.y": [
          [1, 0.95],
          [11, 0.95],
          [12, 1.0],
          [13, 0.95],
          [24, 0.95],
        ],
        "forearm_l rotation.z": spike(8),
      }),
    );
    const fault: Fault = {
      kind: "massCentre",
      subject: 0,
      lo: 9,
      hi: 13,
      from: 11,
      to: 11,
      strength: (series) => Math.hypot(series[6] - series[0], series[7] - series[1], series[8] - series[2]),
    };
    const causes = causesOf(study, fault);
    expect(causes[0]).toMatchObject({ node: "hips", channel: "translation.y", frame: 12 });
    expect(causes[0].share).toBeGreaterThan(0.9);
  });

  test("a share is told of keys that were taken out one by one, of no others", () => {
    // Twelve keys lift the point: so many are tried together only.
    const lifted = (frame: number) => (frame >= 7 && frame <= 18 ? 0.1 : 0);
    const keys = Array.from({ length: 24 }, (_, i): [number, number] => [i + 1, lifted(i + 1)]);
    const study = studyOf(pointDocument({ "translation.x": keys }));
    const fault: Fault = {
      kind: "position",
      subject: 0,
      lo: 5,
      hi: 18,
      from: 6,
      to: 17,
      strength: (series) => Math.abs(series[3 * 7]),
    };
    const together = causesOf(study, fault);
    expect(together.length).toBeGreaterThan(0);
    for (const key of together) expect(key).not.toHaveProperty("share");
    const [alone] = causesOf(
      studyOf(pointDocument({ "translation.x": spike(0.1) })),
      away(study, "point", 11),
    );
    expect(alone.share).toBeCloseTo(1, 12);
  });

  test("keys that a check knows are taken as they are, without a share that nobody tried", () => {
    const study = studyOf(pointDocument({ "translation.x": spike(0.1) }));
    const keys = [{ node: "point", channel: "translation.x" as const, index: 2 }];
    expect(causesOf(study, { kind: "keys", keys })).toEqual([{ ...keys[0], frame: 12 }]);
    const gone = [{ ...keys[0], node: "nobody" }];
    expect(causesOf(study, { kind: "keys", keys: gone })).toEqual([]);
  });

  test("no fault, or a fault without strength, has no cause", () => {
    const study = studyOf(pointDocument({ "translation.x": spike(0) }));
    expect(causesOf(study, null)).toEqual([]);
    expect(causesOf(study, away(study, "point", 11))).toEqual([]);
  });
});
