import { numbersInWords, trimmed } from "../base/number-words.ts";
import { measure, type Study } from "../base/study.ts";
import type { BodyPart } from "../document/schema.ts";
import type { Finding } from "../faults/check.ts";
import type { NoteKey } from "../faults/note.ts";
import type { Words } from "../faults/words.ts";
import { figureOfNode, figuresOf, standsOnFour } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { gridOf } from "../time/grid.ts";
import { framesFrom } from "../time/span.ts";

/** Words of one finding; see {@link Words}. */
export function wordsFor(study: Study, finding: Pick<Finding, "node">, keys: readonly NoteKey[]): Words {
  const { frames, step, rate } = gridOf(study);
  const frame = (index: number) =>
    trimmed(frames[Math.min(frames.length - 1, Math.max(0, Math.round(index)))], 1);
  const span = (from: number, to: number) =>
    frame(from) === frame(to) ? `frame ${frame(from)}` : `frames ${frame(from)} to ${frame(to)}`;
  /** What is counted are judged frames; where these are not the document's own, their rate stands beside. */
  const perSecond = step === 1 ? "" : ` at ${trimmed(rate, 2)} per second`;
  return {
    keys,
    part: finding.node < 0 ? "the shot" : nodeNameOf(study, finding.node),
    name: (node) => nodeNameOf(study, node),
    frame,
    span,
    counted: (from, to) =>
      frame(from) === frame(to)
        ? span(from, to)
        : `${span(from, to)} (${numbersInWords.frames(framesFrom(from, to))}${perSecond})`,
    ...numbersInWords,
  };
}

/**
 * The part that a node is, in words ("left hand"), or its id; parts of several nodes say which one is meant.
 * @param node rig index of the node
 * @returns a name for people, not an id
 */
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
  return partName(part, standsOnFour(figure));
}

/** What forelegs have as arms have it, in the words of animals that go on them; behind them are hind feet. */
const foreParts: Partial<Record<string, string>> = {
  Foot: "HindFoot",
  Toes: "HindToes",
  UpperArm: "UpperForeleg",
  Forearm: "LowerForeleg",
  Hand: "Forefoot",
  Fingers: "ForeToes",
};

/** "leftUpperArm" → "left upper arm", of a dog "left upper foreleg"; "root" → "hips", as animators call it. */
function partName(bodyPart: BodyPart, onFour: boolean): string {
  if (bodyPart === "root") return "hips";
  const part = onFour
    ? bodyPart.replace(/^(left|right)(.*)/, (_, side, of) => side + (foreParts[of] ?? of))
    : bodyPart;
  return part.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}
