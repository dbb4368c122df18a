import type { Study } from "../../../packages/core/base/study.ts";
import type { DocumentHeader, NodeSpec } from "../../../packages/core/document/schema.ts";
import { type Figure, figuresOf } from "../../../packages/core/rig/body.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { studyOf as studyOfShot } from "../../../packages/core/settings/study.ts";

type Vector = [number, number, number];

/** One node on a line: `id < parent @ x y z`; one without a parent is a root, without a place it stands at its parent. */
export function nodesFrom(lines: string): NodeSpec[] {
  return lines
    .trim()
    .split("\n")
    .map((line) => {
      const [head, at] = line.split("@");
      const [id, parent] = head.split("<").map((word) => word.trim());
      const translation = at === undefined ? undefined : (at.trim().split(/\s+/).map(Number) as Vector);
      return {
        id,
        ...(parent === undefined ? {} : { parent }),
        ...(translation === undefined ? {} : { translation }),
      };
    });
}

/** A study of nodes without curves. */
export function studyOf(nodes: NodeSpec[], rest: Partial<DocumentHeader> = {}): Study {
  const header: DocumentHeader = {
    format: "keyside.curves",
    version: 1,
    shot: { frameRate: 24 },
    nodes,
    ...rest,
  };
  return studyOfShot(
    { header, frameRate: { numerator: 24, denominator: 1 }, range: [1, 24], curves: [] },
    { rate: null, style: "full", registry: [], tiers: { minor: 0.3, major: 0.6 }, checks: new Map() },
  );
}

/** A figure's parts as ids, lists joined by blanks. */
export function partIds(study: Study, index = 0): Record<string, string> {
  const figure = figuresOf(study)[index] as Figure;
  const { ids } = rigOf(study);
  return Object.fromEntries(
    [...figure.parts].map(([part, nodes]) => [part, nodes.map((n) => ids[n]).join(" ")]),
  );
}

const limb = (side: "left" | "right", sign: number): string => `
${side}Hip < hips @ ${0.1 * sign} -0.05 0
${side}Knee < ${side}Hip @ 0 -0.42 0.01
${side}Ankle < ${side}Knee @ 0 -0.41 -0.01
${side}Toe < ${side}Ankle @ 0 -0.07 0.14
${side}Tip < ${side}Toe @ 0 0 0.07
${side}Collar < chest @ ${0.03 * sign} 0.2 0
${side}Shoulder < ${side}Collar @ ${0.15 * sign} 0 0
${side}Elbow < ${side}Shoulder @ ${0.3 * sign} 0 0
${side}Wrist < ${side}Elbow @ ${0.26 * sign} 0 0
${side}Knuckle < ${side}Wrist @ ${0.09 * sign} 0 0
${side}Fingertip < ${side}Knuckle @ ${0.09 * sign} 0 0`;

/** A plain biped in a T pose, metres, y up, facing +z: sole at 0, head joint at 1.51, top of the head at 1.7. */
export const bipedLines = `
hips @ 0 0.95 0
belly < hips @ 0 0.12 0
chest < belly @ 0 0.14 0
neck < chest @ 0 0.22 0
head < neck @ 0 0.08 0.01
crown < head @ 0 0.19 0${limb("left", 1)}${limb("right", -1)}`;

/** The same biped with names that tell nothing, and the order of all children turned round. */
export function nameless(lines: string): string {
  const rows = lines.trim().split("\n").reverse();
  const ids = rows.map((row) => row.split(/[<@]/)[0].trim());
  const code = new Map(ids.map((id, i) => [id, `n${(i * 7 + 3) % 97}`]));
  return rows.map((row) => row.replace(/[A-Za-z]+/g, (word) => code.get(word) ?? word)).join("\n");
}

/** The code under which {@link nameless} hides an id. */
export function hidden(lines: string, id: string): string {
  const ids = lines
    .trim()
    .split("\n")
    .reverse()
    .map((row) => row.split(/[<@]/)[0].trim());
  return `n${(ids.indexOf(id) * 7 + 3) % 97}`;
}
