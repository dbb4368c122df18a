import { describe, expect, it } from "vitest";
import { readShot } from "../../../packages/core/document/read.ts";
import { figureOfNode, figuresOf, inferredOf } from "../../../packages/core/rig/body.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedLines, hidden, nameless, nodesFrom, partIds, studyOf } from "./body-study.ts";

/** What every map of the plain biped has to hold. */
const bipedParts = {
  root: "hips",
  spine: "belly",
  chest: "chest",
  neck: "neck",
  head: "head",
  leftShoulder: "leftCollar",
  leftUpperArm: "leftShoulder",
  leftForearm: "leftElbow",
  leftHand: "leftWrist",
  leftThigh: "leftHip",
  leftShin: "leftKnee",
  leftFoot: "leftAnkle",
  leftToes: "leftToe",
  rightShoulder: "rightCollar",
  rightUpperArm: "rightShoulder",
  rightForearm: "rightElbow",
  rightHand: "rightWrist",
  rightThigh: "rightHip",
  rightShin: "rightKnee",
  rightFoot: "rightAnkle",
  rightToes: "rightToe",
};

const turned = (lines: string, turn: (x: number, y: number, z: number) => number[]) =>
  lines.replace(
    /@ (\S+) (\S+) (\S+)/g,
    (_, x, y, z) => `@ ${turn(Number(x), Number(y), Number(z)).join(" ")}`,
  );

describe("figures", () => {
  it("maps a biped by its names", () => {
    const study = studyOf(nodesFrom(bipedLines), { space: { metresPerUnit: 1, up: "y", angle: "degrees" } });
    expect(partIds(study)).toMatchObject({ ...bipedParts, leftToes: expect.stringMatching(/^leftToe/) });
    expect(figuresOf(study)[0]).toMatchObject({ id: "hips", kind: "human", declared: false });
    expect(inferredOf(study)[0]).toMatch(/^figure "hips": \d+ parts inferred from names/);
  });

  it.each([
    ["y", "+z", (x: number, y: number, z: number) => [x, y, z]],
    ["y", "-z", (x: number, y: number, z: number) => [-x, y, -z]],
    ["y", "+x", (x: number, y: number, z: number) => [z, y, -x]],
    ["z", "-y", (x: number, y: number, z: number) => [x, -z, y]],
    ["x", "+z", (x: number, y: number, z: number) => [y, -x, z]],
  ] as const)("maps a biped without names by its shape: %s up, facing %s", (up, _facing, turn) => {
    const study = studyOf(nodesFrom(nameless(turned(bipedLines, turn))), { space: { up, angle: "degrees" } });
    const parts = partIds(study);
    for (const [part, id] of Object.entries(bipedParts)) {
      expect(parts[part], part).toBe(hidden(bipedLines, id));
    }
    expect(figuresOf(study)[0].kind).toBe("human");
  });

  it("lets a side in a name win over the side in space", () => {
    const lines = nameless(bipedLines).replaceAll(hidden(bipedLines, "leftHip"), "R_a");
    const parts = partIds(studyOf(nodesFrom(lines)));
    expect(parts["rightThigh"]).toBe("R_a");
    expect(parts["leftThigh"]).toBe(hidden(bipedLines, "rightHip"));
    expect(parts["leftUpperArm"]).toBe(hidden(bipedLines, "leftShoulder"));
  });

  it("fills what names leave open from the shape", () => {
    const lines = bipedLines.replaceAll("leftElbow", "bone7").replaceAll("rightKnee", "bone8");
    expect(partIds(studyOf(nodesFrom(lines)))).toMatchObject({ leftForearm: "bone7", rightShin: "bone8" });
  });

  it("overrides part by part where the document declares, and works out the rest", () => {
    const figures = [
      { id: "courier", parts: { root: "hips", leftHand: "leftElbow", spine: ["belly", "chest"] } },
    ];
    const study = studyOf(nodesFrom(bipedLines), { figures });
    const parts = partIds(study);
    expect(parts).toMatchObject({ leftHand: "leftElbow", spine: "belly chest", rightHand: "rightWrist" });
    expect(parts["leftForearm"]).not.toBe("leftElbow");
    expect(figuresOf(study)).toHaveLength(1);
    expect(figuresOf(study)[0]).toMatchObject({ id: "courier", declared: true });
    expect(inferredOf(study)[0]).toMatch(
      /^figure "courier": 3 parts declared, \d+ parts inferred from names/,
    );
  });

  it("keeps a declared figure to the subtree of its root", () => {
    const study = studyOf(
      nodesFrom(`mover\n${bipedLines.replace("hips @", "hips < mover @")}\npole < mover @ 3 0 0`),
      {
        figures: [{ id: "courier", parts: { root: "hips" } }],
      },
    );
    const { indexOf } = rigOf(study);
    expect(figuresOf(study)).toHaveLength(1);
    expect(figureOfNode(study, indexOf.get("leftToe") as number)).toBe(0);
    expect(figureOfNode(study, indexOf.get("mover") as number)).toBe(-1);
    expect(figureOfNode(study, indexOf.get("pole") as number)).toBe(-1);
  });

  it("finds the hierarchy of a declared figure by its name space, else the next free one", () => {
    const spaced = (space: string) => bipedLines.replace(/[A-Za-z]+/g, (word) => `${space}:${word}`).trim();
    const study = studyOf(nodesFrom(`${spaced("heron")}\n${spaced("courier")}`), {
      figures: [{ id: "courier" }, { id: "somebody" }, { id: "nobody" }],
    });
    expect(figuresOf(study).map(({ id, root }) => [id, rigOf(study).ids[root]])).toEqual([
      ["courier", "courier:hips"],
      ["somebody", "heron:hips"],
    ]);
    expect(inferredOf(study)).toContain('figure "nobody": no node of the document belongs to it');
  });

  it("calls a figure by an id under which a document can declare it, and name it elsewhere", () => {
    const spaced = (space: string, hips: string) =>
      bipedLines
        .replace(/\bhips\b/g, hips)
        .replace(/[A-Za-z]+/g, (word) => `${space}:${word}`)
        .trim();
    const lines = [
      spaced("heron", "hips"),
      spaced("heron", "pelvis").replace(/heron:(?!pelvis)/g, "heron:b"),
      bipedLines,
    ];
    const nodes = nodesFrom(lines.map((one) => one.trim()).join("\n"));
    const named = (study: ReturnType<typeof studyOf>) =>
      figuresOf(study).map(({ id, root }) => [id, rigOf(study).ids[root]]);
    const inferred = named(studyOf(nodes));
    expect(inferred).toEqual([
      ["heron", "heron:hips"],
      ["heron:pelvis", "heron:pelvis"],
      ["hips", "hips"],
    ]);
    for (const [id = "", root] of inferred) {
      const declared = studyOf(nodes, { figures: [{ id }] });
      expect(named(declared)[0]).toEqual([id, root]);
      const header = {
        format: "keyside.curves",
        version: 1,
        shot: { frameRate: 24, range: [1, 9] },
        nodes,
        curves: [],
      };
      const gazes = [{ figure: id, at: root, frames: [1, 2] }];
      expect(readShot(JSON.stringify({ ...header, gazes })).problems).toEqual([]);
      const wrong = [{ ...gazes[0], figure: `${id}x` }];
      expect(readShot(JSON.stringify({ ...header, gazes: wrong })).problems).toMatchObject([
        { code: "unknown-reference" },
      ]);
    }
  });

  it("says where a document names a figure that is none", () => {
    const study = studyOf(nodesFrom(bipedLines), {
      propulsors: [{ figure: "leftHip", nodes: ["leftHip"], channel: "rotation.x" }],
    });
    expect(inferredOf(study)).toContain('no figure is called "leftHip": there is "hips"');
  });

  it.each([true, false])("tells several bodies below one node apart (names: %s)", (named) => {
    const spaced = (space: string) => {
      const own = bipedLines.replace(/[A-Za-z]+/g, (word) => `${space}:${word}`).trim();
      return own.replace(`${space}:hips @`, `${space}:hips < stage @`);
    };
    const plain = (at: number) =>
      bipedLines
        .trim()
        .replace(
          /[A-Za-z]+/g,
          (word) =>
            `n${at}${word.length}${word.charCodeAt(0)}${word.charCodeAt(word.length - 1)}${word.charCodeAt(5)}`,
        );
    const two = named
      ? `${spaced("a")}\n${spaced("b")}`
      : [0, 1].map((at) => plain(at).replace(" @", " < stage @")).join("\n");
    const study = studyOf(nodesFrom(`stage\n${two}`));
    expect(figuresOf(study).map(({ kind }) => kind)).toEqual(["human", "human"]);
    expect(figureOfNode(study, 0)).toBe(-1);
    if (named) expect(figuresOf(study).map(({ id }) => id)).toEqual(["a", "b"]);
  });

  it("takes a hierarchy that is no body for a figure of one piece, and a single node, a camera rig or lamp for none", () => {
    const study = studyOf(
      nodesFrom("cart\nwheel < cart @ 1 0 0\nball\ndolly\ncam1 < dolly @ 0 1 0\nlamp\nbulb < lamp"),
      {
        cameras: [{ id: "shotcam", node: "cam1", verticalFieldOfView: 30 }],
      },
    );
    expect(figuresOf(study)).toHaveLength(1);
    expect(figuresOf(study)[0]).toMatchObject({ id: "cart", kind: "other" });
    expect(partIds(study)).toEqual({ root: "cart" });
    const { ids } = rigOf(study);
    expect(ids.map((_, node) => figureOfNode(study, node))).toEqual([0, 0, -1, -1, -1, -1, -1]);
    expect(inferredOf(study)[0]).toBe('figure "cart": no body found in its nodes, taken as one piece');
  });

  it("knows a winged figure with a tail", () => {
    const wing = (side: string, sign: number) =>
      `wing_${side}_01 < chest @ ${sign} 0 0\nwing_${side}_02 < wing_${side}_01 @ ${3 * sign} 0 0`;
    const study = studyOf(
      nodesFrom(
        `body\nchest < body @ 0 0 2\n${wing("l", 1)}\n${wing("r", -1)}\ntail_1 < body @ 0 0 -1\ntail_2 < tail_1 @ 0 0 -1`,
      ),
    );
    expect(figuresOf(study)[0].kind).toBe("winged");
    expect(partIds(study)).toMatchObject({
      leftWing: "wing_l_01 wing_l_02",
      rightWing: "wing_r_01 wing_r_02",
      tail: "tail_1 tail_2",
    });
  });

  it.each([true, false])("takes no figure on four legs for a human (names: %s)", (named) => {
    const leg = (end: string, side: string, x: number, from: string) => `
${end}Leg1_${side} < ${from} @ ${x} -0.1 0
${end}Leg2_${side} < ${end}Leg1_${side} @ 0 -0.3 0.02
${end}Foot_${side} < ${end}Leg2_${side} @ 0 -0.3 0
${end}Toe_${side} < ${end}Foot_${side} @ 0 -0.05 0.05`;
    const lines = `
pelvis @ 0 0.75 0
spine < pelvis @ 0 0 0.3
chest < spine @ 0 0 0.3
neck < chest @ 0 0.2 0.2
head < neck @ 0 0.1 0.1
nose < head @ 0 0 0.2${leg("hind", "l", 0.1, "pelvis")}${leg("hind", "r", -0.1, "pelvis")}${leg("front", "l", 0.1, "chest")}${leg("front", "r", -0.1, "chest")}`;
    const plain = lines.replace(
      /[A-Za-z]+\w*/g,
      (word) => `n${[...word].reduce((sum, c) => (sum * 31 + c.charCodeAt(0)) % 9973, 7)}`,
    );
    const study = studyOf(nodesFrom(named ? lines : plain));
    expect(figuresOf(study)[0].kind).toBe("other");
    if (named) {
      expect(partIds(study)).toMatchObject({
        leftHand: "frontFoot_l",
        leftFoot: "hindFoot_l",
        rightUpperArm: "frontLeg1_r",
      });
    }
  });

  it("counts the tips of chains with the joint above them", () => {
    const study = studyOf(nodesFrom("Hips\nHead < Hips @ 0 1 0\nHead_end < Head @ 0 1 0"));
    const figure = figuresOf(study)[0];
    expect(figure.partOf.get(rigOf(study).indexOf.get("Head_end") as number)).toBe("head");
    expect(figure.parts.get("head")).toHaveLength(1);
  });

  it("bears an empty document", () => {
    const study = studyOf([]);
    expect(figuresOf(study)).toEqual([]);
    expect(inferredOf(study)).toEqual([]);
  });
});
