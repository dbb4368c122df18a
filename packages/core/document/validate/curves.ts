import { type Curve, channels, type Problem } from "../model.ts";
import { quoted } from "../scan/cursor.ts";
import type { ScannedCurve } from "../scan/finish-curve.ts";
import { meant } from "./names.ts";

/** Curves that can be used, and what is wrong with curves that only shows beside the rest of the document. */
export interface ChosenCurves {
  readonly curves: readonly Curve[];
  readonly problems: readonly Problem[];
}

const quaternion = 1 << channels.indexOf("rotation");
const axes = channels.reduce((bits, name, i) => (name.startsWith("rotation.") ? bits | (1 << i) : bits), 0);

/**
 * Takes the curves that drive a node of the document, one per channel: of two for one channel the first counts.
 * @param nodeIds null where the document has no usable nodes
 */
export function chosenCurves(scanned: readonly ScannedCurve[], nodeIds: ReadonlySet<string>): ChosenCurves {
  const curves: Curve[] = [];
  const problems: Problem[] = [];
  // Per node, a bit for each channel that has a curve.
  const seen = new Map<string, number>();
  const report = (code: string, message: string, curve: ScannedCurve, name: "node" | "channel") => {
    const [from, to] = name === "node" ? curve.nodePlace : curve.channelPlace;
    const path = `curves/${curve.index}/${name}`;
    problems.push({ code, message, start: curve.start + from, end: curve.start + to, path });
  };
  for (const entry of scanned) {
    const { curve, node, channel } = entry;
    if (node === null || channel === null) continue;
    if (!nodeIds.has(node)) {
      const message = `There is no node ${quoted(node)}${meant(node, [...nodeIds])} The curve is left out.`;
      report("unknown-node", message, entry, "node");
      continue;
    }
    if (curve === null) continue;
    const others = seen.get(node) ?? 0;
    const own = 1 << channels.indexOf(channel);
    if ((others & own) !== 0) {
      const message = `There is another curve for "${channel}" of ${quoted(node)} before this one; take one out. This one is left out.`;
      report("duplicate-curve", message, entry, "channel");
      continue;
    }
    if (
      ((own & quaternion) !== 0 && (others & axes) !== 0) ||
      ((own & axes) !== 0 && (others & quaternion) !== 0)
    ) {
      const message = `${quoted(node)} has a quaternion curve "rotation" and curves for single axes; take out the ones that are not meant. The quaternion curve is used.`;
      report("mixed-rotation", message, entry, "channel");
    }
    seen.set(node, others | own);
    curves.push(curve);
  }
  return { curves, problems };
}
