import type { Study } from "../../../base/study.ts";
import { restFloorOf, restTurnOf } from "../../../motion/path/moves.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import type { Finding } from "../../check.ts";
import { apartInWorld } from "./part.ts";
import type { Shown } from "./shown.ts";

/** What is looked at of a finding. */
interface ShownFinding extends Finding {
  readonly numbers: { readonly drawn: number; readonly body: number };
  readonly shown: Shown;
}

/**
 * Drawn poses that are short, those of one body told as one: where two of its parts and its hips are in it on the same
 * samples, the drawing is of the body, and the part with the longest way speaks for it.
 */
export function ofBodies<F extends ShownFinding>(study: Study, figure: number, found: readonly F[]): F[] {
  const hips = carrierOf(figuresOf(study)[figure]);
  const groups = new Map<string, F[]>();
  for (const one of found) {
    const { numbers, shown, node } = one;
    const pose = numbers.drawn === 1 ? `${shown.into} to ${shown.out}` : `part ${node} at ${shown.at}`;
    groups.set(pose, [...(groups.get(pose) ?? []), one]);
  }
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (group.length < 2 || !goes(study, hips, first.shown.into) || !goes(study, hips, first.shown.out))
      return group;
    const speaker = group.reduce((most, one) => (one.size > most.size ? one : most));
    const others = group.filter((one) => one !== speaker);
    const keys = [speaker, ...others].flatMap(({ fault }) => (fault?.kind === "keys" ? fault.keys : []));
    return [
      {
        ...speaker,
        seenAt: [speaker.node, hips, ...others.map(({ node }) => node)],
        isOfFigure: true,
        numbers: { ...speaker.numbers, body: 1 },
        fault: { kind: "keys" as const, keys },
      },
    ];
  });
}

/** Whether hips are in another place, or turned otherwise, from the sample before on. */
function goes(study: Study, hips: number, i: number): boolean {
  const part = { node: hips, carrier: -1, near: 0 };
  return (
    apartInWorld(study, { ...part, turns: false })(i - 1, i) > 2 * restFloorOf(study, hips) ||
    apartInWorld(study, { ...part, turns: true })(i - 1, i) > 2 * restTurnOf(study)
  );
}
