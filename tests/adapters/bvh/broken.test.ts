import { describe, expect, it } from "vitest";
import { readBvh } from "../../../packages/adapters/bvh/read.ts";
import type { ReadResult } from "../../../packages/core/document/model.ts";
import { bvhText, lineAndColumn, rowFrom } from "./bvh-text.ts";

const rows = [rowFrom(1), rowFrom(2), rowFrom(3)];
const sound = bvhText(rows);

/** Codes of the problems, with the line and column of each. */
function told(
  text: string,
  result: ReadResult = readBvh(text),
): [code: string, line: number, column: number][] {
  return result.problems.map(({ code, start }) => [code, ...lineAndColumn(text, start)]);
}

const keysOf = (text: string, node: string, channel: string) => {
  const curve = readBvh(text).shot?.curves.find((one) => one.node === node && one.channel === channel);
  return curve === undefined ? [] : [...curve.frames].map((frame, i) => [frame, curve.values[i]]);
};

describe("writing habits that are no fault", () => {
  it.each([
    ["CRLF", sound.replaceAll("\n", "\r\n")],
    ["CR", sound.replaceAll("\n", "\r")],
    [
      "tabs",
      sound.replaceAll(" ", "\t").replace("End\tSite", "End Site").replace("Frame\tTime", "Frame Time"),
    ],
    ["trailing blanks and blank lines", sound.replaceAll("\n", "  \n\n")],
    ["lower case", sound.toLowerCase().replaceAll("hips", "Hips").replaceAll("chest", "Chest")],
    [
      "upper case keywords",
      sound.replace(/HIERARCHY|End Site|\w(position|rotation)/g, (word) => word.toUpperCase()),
    ],
    ["a byte order mark", `\uFEFF${sound}`],
    ["brace on the name's line", sound.replace("Hips\n{", "Hips {")],
    ["exponents and signs", sound.replace("1.0000 ", "+1.0e0 ")],
  ])("%s", (_habit, text) => {
    const result = readBvh(text);
    expect(result.problems).toEqual([]);
    expect(result.shot?.header.nodes.map(({ id }) => id)).toEqual(["Hips", "Chest", "Chest_end"]);
    expect(keysOf(text, "Hips", "translation.x")).toEqual([
      [1, 1],
      [2, 2],
      [3, 3],
    ]);
  });

  it("reads several roots, and names with blanks and colons", () => {
    const text =
      "HIERARCHY\nROOT crew:Left Arm\n{\nOFFSET 1 2 3\nCHANNELS 1 Xrotation\n}\nROOT b\n{\nOFFSET 0 0 0\nCHANNELS 2 Yrotation Zposition\n}\nMOTION\nFrames: 2\nFrame Time: 0.04\n1 2 3\n2 3 4";
    const { shot, problems } = readBvh(text);
    expect(problems).toEqual([]);
    expect(shot?.header.nodes.map(({ id, parent }) => [id, parent])).toEqual([
      ["crew:Left Arm", undefined],
      ["b", undefined],
    ]);
    expect(shot?.header.nodes[1].rotationOrder).toBe("yxz");
    expect(keysOf(text, "b", "rotation.y")).toEqual([
      [1, 2],
      [2, 3],
    ]);
    expect(keysOf(text, "b", "translation.z")).toEqual([
      [1, 3],
      [2, 4],
    ]);
  });

  it("reads channels in any order, positions between rotations and on joints", () => {
    const text = sound
      .replace(
        "CHANNELS 6 Xposition Yposition Zposition Zrotation Yrotation Xrotation",
        "CHANNELS 6 Yrotation Xposition Xrotation Zposition Zrotation Yposition",
      )
      .replace("CHANNELS 3 Zrotation Xrotation Yrotation", "CHANNELS 3 Zposition Yrotation Xrotation");
    const { shot, problems } = readBvh(text);
    expect(problems).toEqual([]);
    expect(shot?.header.nodes[0].rotationOrder).toBe("yxz");
    expect(keysOf(text, "Hips", "translation.x")).toEqual([
      [1, 1.1],
      [2, 2.1],
      [3, 3.1],
    ]);
    expect(keysOf(text, "Hips", "rotation.z")).toEqual([
      [1, 1.4],
      [2, 2.4],
      [3, 3.4],
    ]);
    expect(keysOf(text, "Chest", "translation.z")).toEqual([
      [1, 1.6],
      [2, 2.6],
      [3, 3.6],
    ]);
  });
});

describe("files with nothing to read", () => {
  it.each([
    ["", "empty-file"],
    [" \n\t\n", "empty-file"],
    ["hello there\n", "keyword"],
    ["HIERARCHY\n", "no-root"],
    ["MOTION\nFrames: 1\nFrame Time: 0.04\n1 2 3", "no-root"],
  ])("%j", (text, code) => {
    const result = readBvh(text);
    expect(result.shot).toBeNull();
    expect(result.problems.map((problem) => problem.code)).toContain(code);
  });
});

describe("hierarchies with faults", () => {
  it("reads a file without MOTION as a skeleton", () => {
    const text = sound.slice(0, sound.indexOf("MOTION"));
    const result = readBvh(text);
    expect(result.shot?.header.nodes).toHaveLength(3);
    expect(result.shot?.curves).toEqual([]);
    expect(result.problems.map(({ code }) => code)).toEqual(["no-motion"]);
  });

  it("makes names that come twice unique, and says so at the second", () => {
    const text = sound.replace("JOINT Chest", "JOINT Hips");
    expect(told(text)).toEqual([["duplicate-node", 6, 9]]);
    expect(readBvh(text).shot?.header.nodes.map(({ id }) => id)).toEqual(["Hips", "Hips_2", "Hips_2_end"]);
  });

  it("tells missing names, offsets and braces", () => {
    expect(told(sound.replace("JOINT Chest", "JOINT"))).toEqual([["joint-name", 6, 3]]);
    expect(told(sound.replace("    OFFSET 0 5 0\n", ""))).toEqual([["offset", 6, 9]]);
    expect(told(sound.replace("OFFSET 0 5 0", "OFFSET 0 5"))).toEqual([["offset", 8, 5]]);
    expect(told(sound.replace("OFFSET 0 5 0", "OFFSET 0 five 0"))).toEqual([["offset", 8, 14]]);
    expect(told(sound.replace("}\nMOTION", "MOTION"))).toEqual([["brace", 3, 1]]);
    expect(told(sound.replace("}\nMOTION", "}\n}\nMOTION"))).toEqual([["brace", 16, 1]]);
    expect(told(sound.replace("    End Site", "    COLOUR red\n    End Site"))).toEqual([["keyword", 10, 5]]);
    expect(told(sound.replace("ROOT Hips", "JOINT Hips"))).toEqual([["joint-parent", 2, 1]]);
  });

  it("reads columns by the channels listed, whatever their count says", () => {
    expect(told(sound.replace("CHANNELS 3 ", "CHANNELS 4 "))).toEqual([["channels", 9, 5]]);
    expect(told(sound.replace("CHANNELS 3 ", "CHANNELS 2 "))).toEqual([["channels", 9, 5]]);
    expect(told(sound.replace("CHANNELS 3 ", "CHANNELS "))).toEqual([["channels", 9, 5]]);
  });

  it("passes over unknown and repeated channels, and notes scale channels", () => {
    const unknown = sound.replace("Zrotation Xrotation Yrotation", "Wrotation Xrotation Yrotation");
    expect(told(unknown)).toEqual([["channel-name", 9, 16]]);
    expect(keysOf(unknown, "Chest", "rotation.x")).toEqual([
      [1, 1.7],
      [2, 2.7],
      [3, 3.7],
    ]);
    const twice = sound.replace("Zrotation Xrotation Yrotation", "Zrotation Zrotation Yrotation");
    expect(told(twice)).toEqual([["channel-name", 9, 26]]);
    expect(readBvh(twice).shot?.header.nodes[1].rotationOrder).toBe("zyx");
    const scaled = sound.replace("Zrotation Xrotation Yrotation", "Xscale Xrotation Yrotation");
    expect(told(scaled)).toEqual([["scale-channel", 9, 16]]);
    expect(keysOf(scaled, "Chest", "scale.x")).toEqual([
      [1, 1.6],
      [2, 2.6],
      [3, 3.6],
    ]);
  });
});

describe("motion with faults", () => {
  it("assumes 30 frames a second where there is no frame time, or none that can be", () => {
    for (const time of [
      "",
      "Frame Time: 0",
      "Frame Time: -1",
      "Frame Time: soon",
      "Frame Time: 1e-320",
      "Frame Time: 1e300",
      "Frame Time:",
    ]) {
      const result = readBvh(bvhText(rows, { time }));
      expect(result.shot?.frameRate, time).toEqual({ numerator: 30, denominator: 1 });
      expect(
        result.problems.map(({ code }) => code),
        time,
      ).toEqual(["frame-time"]);
      expect(result.shot?.range, time).toEqual([1, 3]);
    }
  });

  it("reads the rows that are there, whatever the count says", () => {
    for (const frames of ["Frames: 2", "Frames: 400", "Frames: many", "Frames: -3", ""]) {
      const result = readBvh(bvhText(rows, { frames }));
      expect(
        result.problems.map(({ code }) => code),
        frames,
      ).toEqual(["frame-count"]);
      expect(result.shot?.range, frames).toEqual([1, 3]);
      expect(result.shot?.frameRate.numerator, frames).toBe(120);
    }
  });

  it("says where there are no frames", () => {
    const result = readBvh(bvhText([]));
    expect(result.problems.map(({ code }) => code)).toEqual(["no-frames"]);
    expect(result.shot?.curves).toEqual([]);
    expect(result.shot?.range).toEqual([1, 1]);
  });

  it.each(["2.oops", "NaN", "-nan", "inf", "1.#IND", "2,5", "--2", ".", "0x10", "1e999"])(
    "leaves %s out",
    (word) => {
      const text = sound.replace("2.3000", word);
      expect(told(text)).toEqual([["number", 20, 22]]);
      expect(readBvh(text).problems[0].message).toContain(word);
      expect(keysOf(text, "Hips", "rotation.z")).toEqual([
        [1, 1.3],
        [3, 3.3],
      ]);
      expect(keysOf(text, "Hips", "rotation.y")).toEqual([
        [1, 1.4],
        [2, 2.4],
        [3, 3.4],
      ]);
    },
  );

  it("reads a short row as far as it goes", () => {
    const text = sound.replace(" 2.7000 2.8000", "");
    expect(told(text)).toEqual([["row-length", 20, 1]]);
    expect(readBvh(text).problems[0].message).toMatch(
      /^Frame 2 has 7 numbers, and the hierarchy has 9 channels/,
    );
    expect(keysOf(text, "Chest", "rotation.z")).toEqual([
      [1, 1.6],
      [2, 2.6],
      [3, 3.6],
    ]);
    expect(keysOf(text, "Chest", "rotation.x")).toEqual([
      [1, 1.7],
      [3, 3.7],
    ]);
  });

  it("reads a long row up to its channels", () => {
    const text = sound.replace("2.8000", "2.8000 77 88");
    expect(told(text)).toEqual([["row-length", 20, 64]]);
    expect(keysOf(text, "Chest", "rotation.y")).toEqual([
      [1, 1.8],
      [2, 2.8],
      [3, 3.8],
    ]);
  });

  it("passes over a line without any number", () => {
    const text = sound.replace("\n2.0000", "\n# take two\n2.0000");
    const result = readBvh(text);
    expect(new Set(result.problems.map(({ code }) => code))).toEqual(new Set(["number", "row"]));
    expect(keysOf(text, "Hips", "translation.x")).toEqual([
      [1, 1],
      [2, 2],
      [3, 3],
    ]);
  });

  it("bridges what is missing when it interpolates", () => {
    const long = bvhText([1, 2, 3, 4, 5, 6, 7].map(rowFrom)).replace("\n3.0000", "\nx");
    const curve = readBvh(long, { rate: 80 }).shot?.curves[0];
    expect([...(curve?.values ?? [])]).toEqual([1, 2.5, 4, 5.5, 7]);
  });

  it("tells the first of many problems of a kind, and how many more there are", () => {
    const bad = bvhText(Array.from({ length: 500 }, () => "x y z"));
    const { problems } = readBvh(bad);
    expect(problems.length).toBeLessThan(60);
    expect(
      problems.some(({ message }) => /^\d+ more problems of the kind "number" follow/.test(message)),
    ).toBe(true);
  });
});
