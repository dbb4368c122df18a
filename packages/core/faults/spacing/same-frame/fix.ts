import { referenceRate } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { figuresOf } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineFix, type Subject } from "../../fix.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import { offsetInTime } from "../../shared/posing/part-offset.ts";
import { type SameFrameFinding, sameFrame } from "./check.ts";

export const sameFrameFix = defineFix(sameFrame, {
  what: "Lets the parts of a body start, or arrive, one after the other along their chains, whichever is enough.",
  title: ({ frames }) => `let the parts come one after the other around frame ${frames[0]}`,
  *propose(subject) {
    const { shot } = subject;
    if (subject.figure < 0) return;
    for (const by of [2, 3]) {
      for (const length of [8, 14]) {
        for (const stagger of [endsLater, endsAndHips, byDepth]) {
          for (const end of ["start", "arrival"] as const) {
            yield* keptAndPlain(subject, shot, staggered(subject, stagger, end, by, length));
          }
        }
      }
    }
  },
});

/** Offset of a node in units of a step: how much later than its own time. */
type Stagger = (subject: Subject, node: number) => number;

/** Ends of limbs and the head come after the rest. */
const endsLater: Stagger = (subject, node) => {
  const part = partOf(subject, node);
  return part !== undefined && late.has(part) ? 1 : 0;
};

/** The hips lead as well. */
const endsAndHips: Stagger = (subject, node) => {
  const { root, parts } = figuresOf(subject.study)[subject.figure];
  return node === root || parts.get("root")?.[0] === node ? -1 : endsLater(subject, node);
};

/** Each joint after the one that it hangs on, from a step before the hips' own time on. */
const byDepth: Stagger = ({ study, figure }, node) => {
  const rig = rigOf(study);
  const { root } = figuresOf(study)[figure];
  return Math.min(2.5, (rig.depth[node] - rig.depth[root]) * 0.5 - 1);
};

const late: ReadonlySet<BodyPart> = new Set<BodyPart>([
  "head",
  "leftForearm",
  "leftHand",
  "leftFingers",
  "rightForearm",
  "rightHand",
  "rightFingers",
  "leftWing",
  "rightWing",
  "tail",
  "hair",
  "ears",
]);

function partOf({ study, figure }: Subject, node: number): BodyPart | undefined {
  return figuresOf(study)[figure].partOf.get(node);
}

function staggered(
  subject: Subject<SameFrameFinding>,
  stagger: Stagger,
  end: "start" | "arrival",
  by: number,
  length: number,
): KeyEdit[] {
  const { study, figure, from, to } = subject;
  const { frames, step, rate } = gridOf(study);
  const starts = end === "start";
  const at = frames[starts ? from : to];
  const scale = (step * rate) / referenceRate;
  return figuresOf(study)[figure].nodes.flatMap((node) => {
    const later = Math.round(by * stagger(subject, node)) * scale;
    if (later === 0) return [];
    // The offset stands where the parts leave their rest, or come to it, and is gone at the other end of the move.
    const reach = Math.abs(later) + 2 * scale;
    const [before, after] = starts ? [4 * scale, length * scale] : [length * scale, 4 * scale];
    return offsetInTime(study, [node], {
      from: at - reach,
      to: at + reach,
      by: later,
      rampIn: Math.max(before, 2 * Math.abs(later)),
      rampOut: Math.max(after, 2 * Math.abs(later)),
    });
  });
}
