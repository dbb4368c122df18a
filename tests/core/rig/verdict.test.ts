import { describe, expect, test } from "vitest";
import type { Check, Finding } from "../../../packages/core/faults/check.ts";
import { weighed } from "../../../packages/core/notes/weighed.ts";
import { figuresOf } from "../../../packages/core/rig/body.ts";
import { upAxisOf } from "../../../packages/core/rig/up.ts";
import { guessesOf, verdictOf } from "../../../packages/core/rig/verdict.ts";
import { bipedLines, nameless, nodesFrom, studyOf } from "./body-study.ts";

/** The plain biped, turned to stand along z. */
const standsOnZ = bipedLines.replace(/@ (\S+) (\S+) (\S+)/g, (_, x, y, z) => `@ ${x} ${-Number(z)} ${y}`);

describe("the axis that points up", () => {
  test("is that on which hips stand over feet, where nothing is declared", () => {
    expect(upAxisOf(studyOf(nodesFrom(bipedLines)))).toEqual({ axis: "y", from: "rest pose" });
    expect(upAxisOf(studyOf(nodesFrom(standsOnZ)))).toEqual({ axis: "z", from: "rest pose" });
  });

  test("is y where names tell nothing, or the way from feet to hips leans", () => {
    expect(upAxisOf(studyOf(nodesFrom(nameless(standsOnZ))))).toEqual({ axis: "y", from: "assumed" });
    const leaning = bipedLines.replace(/Ankle < (\w+) @ 0 -0.41 -0.01/g, "Ankle < $1 @ 0 -0.41 -0.9");
    expect(upAxisOf(studyOf(nodesFrom(leaning))).from).toBe("assumed");
  });

  test("is what the document declares, or what its surfaces were written for", () => {
    const space = { up: "y", angle: "degrees" } as const;
    expect(upAxisOf(studyOf(nodesFrom(standsOnZ), { space }))).toEqual({ axis: "y", from: "declared" });
    const surfaces = [{ id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0 }];
    expect(upAxisOf(studyOf(nodesFrom(standsOnZ), { surfaces })).axis).toBe("y");
  });

  test("a body that stands on z is known as it is on y", () => {
    const study = studyOf(nodesFrom(standsOnZ));
    expect(figuresOf(study)[0].kind).toBe("human");
    expect(verdictOf(study)).toMatchObject({ up: "z", upCertainty: "sure", metresPerUnit: 1, unit: "sure" });
    expect(guessesOf(study)).toEqual([
      'z is taken for the axis that points up, as the hips of the rest pose stand over its feet that way; "space": { "up": "z" } settles it',
    ]);
  });
});

describe("what is guessed", () => {
  test("is said, with the line that settles it", () => {
    const half = nodesFrom(bipedLines).map((node) => ({
      ...node,
      translation: node.translation?.map((x) => x * 0.5) as [number, number, number],
    }));
    const study = studyOf(half);
    expect(verdictOf(study)).toMatchObject({ metresPerUnit: 1, unit: "guessed" });
    expect(guessesOf(study)).toEqual([
      'the unit is a guess, and what hangs on it is polish; "space": { "metresPerUnit": 1 } would settle it',
    ]);
    const settled = studyOf(half, { space: { metresPerUnit: 1, angle: "degrees" } });
    expect(guessesOf(settled)).toEqual([]);
  });

  test("a body that nothing tells is a guess, until it is declared", () => {
    const chain = nodesFrom("a @ 0 1 0\nb < a @ 0 1 0\nc < b @ 0 1 0\nd < c @ 0 1 0");
    expect(guessesOf(studyOf(chain))[0]).toBe(
      'figure "a": taken for a body with no legs, which is a guess; "figures": [{ "id": "a", "parts": { … } }] settles it',
    );
    const figures = [{ id: "a", parts: { root: "a" } }];
    expect(verdictOf(studyOf(chain, { figures })).bodies[0].certainty).toBe("declared");
  });

  test("what hangs on it is polish at most", () => {
    const half = nodesFrom(bipedLines).map((node) => ({
      ...node,
      translation: node.translation?.map((x) => x * 0.5) as [number, number, number],
    }));
    const finding: Finding = {
      ...{ node: 0, figure: 0, from: 0, to: 12, excess: 4, size: 0.3, fault: null },
      measured: { quantity: "lift", value: 2, unit: "m" },
      expected: { max: 0.1, unit: "m", source: "from memory" },
    };
    const tierOf = (hangsOn: Check["hangsOn"], space?: { metresPerUnit: number; angle: "degrees" }) =>
      weighed(studyOf(half, space === undefined ? {} : { space }), {
        check: { name: "lifts", ceiling: "major", hangsOn } as unknown as Check,
        finding,
      }).tier;
    expect(tierOf(undefined)).toBe("major");
    expect(tierOf(["unit"])).toBe("polish");
    expect(tierOf(["body"])).toBe("major");
    expect(tierOf(["unit"], { metresPerUnit: 0.5, angle: "degrees" })).toBe("major");
  });
});
