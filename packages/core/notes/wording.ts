import { measure, type Study } from "../base/study.ts";
import type { BodyPart } from "../document/schema.ts";
import type { Finding } from "../faults/check.ts";
import type { NoteKey } from "../faults/note.ts";
import type { Words } from "../faults/words.ts";
import { figureOfNode, figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { gridOf } from "../time/grid.ts";

const degrees = 180 / Math.PI;

/** Words of one finding; see {@link Words}. */
export function wordsFor(study: Study, finding: Finding, keys: readonly NoteKey[]): Words {
  const { frames } = gridOf(study);
  const frame = (index: number) =>
    trimmed(frames[Math.min(frames.length - 1, Math.max(0, Math.round(index)))], 1);
  return {
    keys,
    part: finding.node < 0 ? "the shot" : nodeNameOf(study, finding.node),
    name: (node) => nodeNameOf(study, node),
    frame,
    span: (from, to) =>
      frame(from) === frame(to) ? `frame ${frame(from)}` : `frames ${frame(from)} to ${frame(to)}`,
    ...numbersInWords,
  };
}

/** How numbers are written in notes; every number of a message goes through one of these. */
export const numbersInWords = {
  frames: (count: number) => plural(trimmed(count, 1), "frame"),
  length(metres: number): string {
    const size = Math.abs(metres);
    if (size < 0.01) return `${trimmed(metres * 1000, size < 0.001 ? 1 : 0)} mm`;
    if (size < 1) return `${trimmed(metres * 100, 1)} cm`;
    return `${trimmed(metres, 2)} m`;
  },
  speed: (metresPerSecond: number) =>
    `${trimmed(metresPerSecond, Math.abs(metresPerSecond) < 1 ? 2 : 1)} m/s`,
  angle: (radians: number) => `${trimmed(radians * degrees, Math.abs(radians) < 0.1 ? 1 : 0)}°`,
  angularSpeed: (radiansPerSecond: number) => `${trimmed(radiansPerSecond * degrees, 0)}°/s`,
  seconds: (seconds: number) => `${trimmed(seconds, 2)} s`,
  times: (factor: number) => `${trimmed(factor, factor < 10 ? 1 : 0)} times`,
  share: (share: number) => `${trimmed(share * 100, 0)} %`,
};

/** A number with at most so many decimals and no trailing zeros. */
function trimmed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return decimals === 0 ? text : text.replace(/\.?0+$/, "");
}

function plural(count: string, word: string): string {
  return count === "1" ? `1 ${word}` : `${count} ${word}s`;
}

/** The part that a node is, in words ("left hand"), or its id; parts of several nodes say which one is meant. */
export const nodeNameOf = measure<number, string>("node name", (study, node) => {
  const id = rigOf(study).ids[node];
  const figure = figuresOf(study)[figureOfNode(study, node)];
  const part = figure?.partOf.get(node);
  const name = partHeading(study, node);
  const isOneOfMany = part !== undefined && name !== id && (figure.parts.get(part)?.length ?? 1) > 1;
  return isOneOfMany ? `${name.replace(/(finger|toe|ear)s$/, "$1")} (${id})` : name;
});

/** What a node is called where all of a part's nodes are meant: its part in words, or its id where it has none. */
export function partHeading(study: Study, node: number): string {
  const figure = figuresOf(study)[figureOfNode(study, node)];
  const part = figure?.partOf.get(node);
  // Only a human's carrying joint is called the hips; a rope's or a bird's goes by its own name.
  if (part === undefined || (part === "root" && figure.kind !== "human")) return rigOf(study).ids[node];
  return partName(part);
}

/** "leftUpperArm" → "left upper arm"; "root" → "hips", as animators call it. */
export function partName(part: BodyPart): string {
  if (part === "root") return "hips";
  return part.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}
