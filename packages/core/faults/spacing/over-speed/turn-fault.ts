import type { Study } from "../../../base/study.ts";
import { bonesTurn } from "../../../motion/parts/bone.ts";
import { carriedPath, carriedTurns } from "../../../motion/path/carried.ts";
import { travelSteps, turnSteps } from "../../../motion/path/pace.ts";
import { worldOf } from "../../../rig/pose.ts";
import type { Fault } from "../../check.ts";

/** A run of samples at which a node is too fast, and what it is measured against (rig index; −1 for the world). */
interface TooFast {
  readonly from: number;
  readonly to: number;
  readonly against: number;
  /** Topmost node whose keys can be the cause. */
  readonly top: number;
}

/** The fastest turn of a node, measured again; of the bone to `end` where that is another node. */
export function turnFault(
  study: Study,
  node: number,
  end: number,
  { from, to, against, top }: TooFast,
): Fault {
  const lo = from - 1;
  const hi = to;
  const window = { top, lo, hi, from: lo, to };
  const carrierNow = () => (against < 0 ? null : worldOf(study, against));
  if (end === node) {
    const poses = Int32Array.from({ length: hi - lo + 1 }, (_, i) => i);
    const strength = (turns: Float64Array) => {
      const carrier = carrierNow();
      return largestOf(
        turnSteps(carrier === null ? turns : carriedTurns(turns, carrier.orientation, lo), poses),
      );
    };
    return { kind: "orientation", subject: node, ...window, sees: ["turn", against], strength };
  }
  const strength = (tip: Float64Array, [base]: readonly Float64Array[]) => {
    const carrier = carrierNow();
    const inCarrier = (path: Float64Array) => (carrier === null ? path : carriedPath(path, carrier, lo));
    return largestOf(bonesTurn(inCarrier(base), inCarrier(tip)));
  };
  return { kind: "position", subject: end, others: [node], ...window, sees: ["bone", against], strength };
}

/** The longest step of a node that is carried, measured again. */
export function carriedFault(study: Study, node: number, { from, to, against, top }: TooFast): Fault {
  const lo = from - 1;
  const hi = to;
  const poses = Int32Array.from({ length: hi - lo + 1 }, (_, i) => i);
  const strength = (path: Float64Array) =>
    largestOf(travelSteps(carriedPath(path, worldOf(study, against), lo), poses));
  return { kind: "position", subject: node, top, lo, hi, from: lo, to, sees: ["carried", against], strength };
}

function largestOf(series: Float64Array): number {
  return series.reduce((most, value) => Math.max(most, value), 0);
}
