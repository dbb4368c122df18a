import type { Study } from "../../../base/study.ts";
import type { KeyEdit, SetKey } from "../../../document/edit.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { radiansPerUnitOf } from "../../../rig/rig.ts";
import { defineFix } from "../../fix.ts";
import { decimalsOf, rounded } from "../../shared/keying/precision.ts";
import { rotationFlip } from "./check.ts";

export const rotationFlipFix = defineFix(rotationFlip, {
  what: "Takes whole turns off the keys behind a flip, or adds them to those before it: the poses stay, the spin goes.",
  title: ({ keys, frames }) =>
    `take the whole turn out of ${keys[0]?.node ?? "the joint"} ${keys[0]?.channel ?? ""} at frame ${frames[1]}`,
  *propose({ study, keys, node }) {
    const key = keys[0];
    const curve = key === undefined ? null : curveOf(study, curveName(key.node, key.channel));
    if (curve === null || key === undefined || key.index < 1 || node < 0) return;
    const runs = runsToTurn(study, curve, key.index);
    const decimals = decimalsOf(study, node, key.channel);
    for (const run of runs) yield turned(curve, run, decimals);
    // Handles that were drawn for the long way round would throw the curve out on the short one.
    for (const run of runs) yield withLevelHandles(turned(curve, run, decimals), curve, key.index);
  },
});

/** Keys first to last, all to be turned by the same amount (document units). */
interface TurnedRun {
  readonly first: number;
  readonly last: number;
  readonly by: number;
}

/** The runs of keys of which the turning takes a flip away, the one with the fewest keys first. */
function runsToTurn(study: Study, { values, frames }: Curve, at: number): TurnedRun[] {
  const circle = (2 * Math.PI) / radiansPerUnitOf(study);
  const turnsTo = (key: number) => Math.round((values[key] - values[key - 1]) / circle);
  const turns = turnsTo(at);
  if (turns === 0) return [];
  const runs: TurnedRun[] = [
    { first: at, last: frames.length - 1, by: -turns * circle },
    { first: 0, last: at - 1, by: turns * circle },
  ];
  for (let key = at + 1; key < frames.length; key++) {
    if (turnsTo(key) !== -turns) continue;
    runs.push({ first: at, last: key - 1, by: -turns * circle });
    break;
  }
  return runs.sort((a, b) => a.last - a.first - (b.last - b.first));
}

function turned(curve: Curve, { first, last, by }: TurnedRun, decimals: number): SetKey[] {
  const { node, channel, frames, values } = curve;
  return Array.from({ length: last - first + 1 }, (_, n) => ({
    kind: "set",
    node,
    channel,
    frame: frames[first + n],
    // A turn of a whole circle keeps the digits that are there.
    value: rounded(values[first + n] + by, Math.max(decimals, 6)),
  }));
}

/** The same edits, with level handles on either side of the flip where there are handles. */
function withLevelHandles(edits: readonly SetKey[], curve: Curve, at: number): KeyEdit[] {
  const { handles, frames, values, node, channel } = curve;
  if (handles === null) return [];
  const byFrame = new Map(edits.map((edit) => [edit.frame, edit]));
  for (const [key, side] of [
    [at - 1, "out"],
    [at, "in"],
  ] as const) {
    const run = handles[4 * key + (side === "in" ? 0 : 2)];
    const edit = byFrame.get(frames[key]) ?? {
      kind: "set" as const,
      node,
      channel,
      frame: frames[key],
      value: values[key],
    };
    byFrame.set(frames[key], { ...edit, handles: { [side]: Number.isNaN(run) ? 0 : [run, 0] } });
  }
  return [...byFrame.values()];
}
