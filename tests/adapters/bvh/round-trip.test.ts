import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readBvh } from "../../../packages/adapters/bvh/read.ts";

interface Made {
  readonly parent: number;
  readonly offset: readonly [number, number, number];
  readonly channels: readonly string[];
  readonly hasEnd: boolean;
}

const number = fc.integer({ min: -999_999, max: 999_999 }).map((n) => n / 1000);
const rotations = fc.shuffledSubarray(["Xrotation", "Yrotation", "Zrotation"], { minLength: 3 });
const positions = ["Xposition", "Yposition", "Zposition"];
const joint = fc.record({
  parent: fc.nat(),
  offset: fc.constant([0, 0, 0] as const),
  // Any interleaving of positions and rotations, or rotations alone.
  channels: fc.oneof(
    rotations,
    fc.shuffledSubarray([...positions, "Xrotation", "Yrotation", "Zrotation"], { minLength: 6 }),
  ),
  hasEnd: fc.boolean(),
});
const skeleton = fc
  .array(fc.tuple(joint, fc.tuple(number, number, number)), { minLength: 1, maxLength: 12 })
  .map((made) =>
    made.map(
      ([one, offset], i): Made => ({
        ...one,
        // A joint with position channels stands at its parent, so that positions read the same added or whole.
        offset: one.channels.length > 3 ? [0, 0, 0] : offset,
        parent: i === 0 ? -1 : one.parent % i,
      }),
    ),
  );

function write(
  joints: readonly Made[],
  rows: readonly (readonly number[])[],
  newline: string,
  indent: string,
): string {
  const lines: string[] = ["HIERARCHY"];
  const put = (i: number, depth: number) => {
    const { parent, offset, channels, hasEnd } = joints[i];
    const at = indent.repeat(depth);
    lines.push(
      `${at}${parent < 0 ? "ROOT" : "JOINT"} j${i}`,
      `${at}{`,
      `${at}${indent}OFFSET ${offset.join(" ")}`,
    );
    lines.push(`${at}${indent}CHANNELS ${channels.length} ${channels.join(" ")}`);
    columns.push(...channels.map((channel): [number, string] => [i, channel]));
    joints.forEach((other, k) => {
      if (other.parent === i) put(k, depth + 1);
    });
    if (hasEnd)
      lines.push(
        `${at}${indent}End Site`,
        `${at}${indent}{`,
        `${at}${indent}${indent}OFFSET 1 2 3`,
        `${at}${indent}}`,
      );
    lines.push(`${at}}`);
  };
  const columns: [number, string][] = [];
  put(0, 0);
  lines.push("MOTION", `Frames: ${rows.length}`, "Frame Time: 0.0416667");
  for (const row of rows) lines.push(columns.map((_, k) => row[k % row.length] + k).join(" "));
  return lines.join(newline) + newline;
}

describe("any BVH that is written", () => {
  it("is read back: hierarchy, offsets, orders, and every number with its place", () => {
    fc.assert(
      fc.property(
        skeleton,
        fc.array(fc.array(number, { minLength: 5, maxLength: 5 }), { minLength: 2, maxLength: 5 }),
        fc.constantFrom("\n", "\r\n"),
        fc.constantFrom("\t", "  "),
        (joints, rows, newline, indent) => {
          const text = write(joints, rows, newline, indent);
          const { shot, problems } = readBvh(text);
          expect(problems).toEqual([]);
          const nodes = new Map(shot?.header.nodes.map((node) => [node.id, node]));
          expect(nodes.size).toBe(joints.length + joints.filter(({ hasEnd }) => hasEnd).length);
          joints.forEach(({ parent, offset, channels }, i) => {
            expect(nodes.get(`j${i}`)).toEqual({
              id: `j${i}`,
              ...(parent < 0 ? {} : { parent: `j${parent}` }),
              translation: offset,
              rotationOrder: channels
                .filter((name) => name.endsWith("rotation"))
                .map((name) => name[0].toLowerCase())
                .join(""),
            });
          });
          for (const { channel, values, place } of shot?.curves ?? []) {
            values.forEach((value, k) => {
              const written = Number(text.slice(place?.keyStart[k], place?.keyEnd[k]));
              // A turn may be told by its other set of angles, and by whole circles more.
              const circles = [written, written + 180, 180 - written].map((angle) => (value - angle) / 360);
              if (!channel.startsWith("rotation")) expect(written).toBe(value);
              else expect(circles.some((n) => Math.abs(n - Math.round(n)) < 1e-9)).toBe(true);
            });
          }
          const moving = new Set(shot?.curves.map(({ node, channel }) => `${node} ${channel}`));
          const lines = text
            .trim()
            .split(/\r?\n/)
            .slice(-rows.length)
            .map((line) => line.split(" "));
          const columns: string[] = [];
          const visit = (i: number) => {
            for (const name of joints[i].channels) {
              columns.push(
                `j${i} ${name.endsWith("position") ? "translation" : "rotation"}.${name[0].toLowerCase()}`,
              );
            }
            joints.forEach((other, k) => {
              if (other.parent === i) visit(k);
            });
          };
          visit(0);
          columns.forEach((name, k) => {
            const changes = lines.some((line) => line[k] !== lines[0][k]);
            if (changes) expect(moving.has(name), name).toBe(true);
          });
        },
      ),
      { numRuns: 150 },
    );
  });

  it("never throws, whatever is cut out of or put into the text", () => {
    const base = write(
      [
        {
          parent: -1,
          offset: [0, 0, 0],
          channels: [...positions, "Zrotation", "Xrotation", "Yrotation"],
          hasEnd: false,
        },
        { parent: 0, offset: [0, 1, 0], channels: ["Zrotation", "Xrotation", "Yrotation"], hasEnd: true },
      ],
      [
        [1, 2, 3, 4, 5],
        [2, 3, 4, 5, 6],
      ],
      "\n",
      "\t",
    );
    fc.assert(
      fc.property(
        fc.nat(base.length),
        fc.nat(60),
        fc.oneof(
          fc.string({ maxLength: 12 }),
          fc.constantFrom("{", "}", "ROOT", "End Site", "MOTION", "CHANNELS 3", "NaN"),
        ),
        (at, gone, put) => {
          const { shot, problems } = readBvh(base.slice(0, at) + put + base.slice(at + gone));
          for (const { start, end } of problems) expect(end).toBeGreaterThanOrEqual(start);
          const ids = shot?.header.nodes.map(({ id }) => id) ?? [];
          expect(new Set(ids).size).toBe(ids.length);
          for (const { values, frames } of shot?.curves ?? []) {
            expect(values.every(Number.isFinite)).toBe(true);
            expect(frames).toHaveLength(values.length);
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});
