import type { Study } from "../../../base/study.ts";
import type { KeyEdit, SetKey } from "../../../document/edit.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { rotationOrders } from "../../../document/schema.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { defineFix } from "../../fix.ts";
import { decimalsOf, rounded } from "../../shared/keying/precision.ts";
import { isReadBack, type RotationFlipFinding, rotationFlip } from "./check.ts";

export const rotationFlipFix = defineFix(rotationFlip, {
  what: "Takes whole turns off the keys behind a flip, or adds them to those before it, or keys the same poses in nearer angles: the poses stay, the spin goes.",
  title: ({ keys, frames }) =>
    `take the turn too much out of ${keys[0]?.node ?? "the joint"} ${keys[0]?.channel ?? ""} at frame ${frames[1]}`,
  *propose({ study, finding, node }) {
    if (node < 0) return;
    if (isReadBack(finding)) {
      yield* inNearerAngles(study, node, finding);
      return;
    }
    const axes = finding.flips.map(({ curve, key }) => {
      const decimals = decimalsOf(study, node, curve.channel);
      return runsToTurn(study, curve, key).map((run) => ({
        curve,
        key,
        edits: turned(curve, run, decimals),
      }));
    });
    // Each axis has its ways, the one with the fewest keys first; the axes go through theirs together.
    const ways = Array.from({ length: Math.max(...axes.map(({ length }) => length)) }, (_, way) =>
      axes.flatMap((axis) => axis.slice(Math.min(way, axis.length - 1))[0] ?? []),
    );
    for (const way of ways) yield way.flatMap(({ edits }) => edits);
    // Handles that were drawn for the long way round would throw the curve out on the short one.
    for (const way of ways) yield way.flatMap(({ edits, curve, key }) => withLevelHandles(edits, curve, key));
  },
});

/**
 * The poses behind a flip in the other angles that give them: half a turn more on the first and last axis that are turned
 * about, and the middle one mirrored. Whole turns bring each near to the key before it.
 */
function* inNearerAngles(study: Study, node: number, { flips }: RotationFlipFinding): Generator<KeyEdit[]> {
  const [{ curve: one, key }] = flips;
  const frame = one.frames[key];
  const middle = rotationOrders[rigOf(study).order[node]][1];
  const curves = (["x", "y", "z"] as const).flatMap(
    (axis) => curveOf(study, curveName(one.node, `rotation.${axis}`)) ?? [],
  );
  const at = curves.map(({ frames }) => frames.indexOf(frame));
  // All three angles of a pose have to be keyed together to be read in other ones.
  if (curves.length < 3 || at.some((index) => index < 1)) return;
  const circle = (2 * Math.PI) / radiansPerUnitOf(study);
  // The slip of a pose or of a few first, then of all that follow.
  for (const count of [1, 2, 3, 4, Number.POSITIVE_INFINITY]) {
    const edits: SetKey[] = [];
    curves.forEach(({ channel, frames, values }, axis) => {
      const decimals = Math.max(decimalsOf(study, node, channel), 6);
      let before = values[at[axis] - 1];
      for (let index = at[axis]; index < Math.min(frames.length, at[axis] + count); index++) {
        const other = channel.endsWith(middle) ? circle / 2 - values[index] : values[index] + circle / 2;
        const value = other + Math.round((before - other) / circle) * circle;
        edits.push({
          kind: "set",
          node: one.node,
          channel,
          frame: frames[index],
          value: rounded(value, decimals),
        });
        before = value;
      }
    });
    yield edits;
    yield curves.flatMap((curve, axis) =>
      withLevelHandles(
        edits.filter(({ channel }) => channel === curve.channel),
        curve,
        at[axis],
      ),
    );
  }
}

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
