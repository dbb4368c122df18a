import { everywhere, patchedMeasure, type Study } from "../../../base/study.ts";
import { levelPathOf, levelTravelPaceOf, levelTravelStepsOf } from "../../../motion/path/level.ts";
import {
  carriedTravelPaceOf,
  carriedTravelStepsOf,
  limbPathOf,
  ownTurnPaceOf,
  ownTurnStepsOf,
  type Pace,
  tailPathOf,
  travelPaceOf,
  travelStepsOf,
  trunkTravelPaceOf,
  trunkTravelStepsOf,
  turnPaceOf,
  turnStepsOf,
} from "../../../motion/path/pace.ts";
import { carrierOf, figureOfNode, figuresOf } from "../../../rig/body.ts";
import { limbCarrierOf, trunkCarrierOf } from "../../../rig/limb-carrier.ts";
import { worldOf } from "../../../rig/pose.ts";
import { reachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";

/** One way in which a node moves from pose to pose: it travels, or it turns. */
export interface Motion {
  readonly kind: "position" | "orientation";
  readonly pace: Pace;
  /** What gives the pace of a node, its steps, and its path if it travels: whoever hangs on nothing else asks these. */
  readonly paceOf: {
    (study: Study, node: number): Pace | null;
    readonly definition: { readonly name: string };
  };
  readonly stepsOf: (study: Study, node: number) => Float64Array | null;
  readonly pathOf: (study: Study, node: number) => Float64Array;
  /** Metres that the eye sees per unit of a step: 1, or the reach of what turns. */
  readonly seen: number;
  /** The node in whose frame it is judged: what carries it. Left out in the world. */
  readonly carrier?: number | undefined;
  /** Whether only the way over the ground counts, without the height. */
  readonly isLevel?: boolean | undefined;
}

/** Travel and turning of a node in the world; empty where nothing drives it. */
export const motionsOf = motionsMeasure("motions", (study, node): readonly Motion[] => {
  if (worldOf(study, node).still) return [];
  const travel: Motion = {
    kind: "position",
    pace: travelPaceOf(study, node),
    paceOf: travelPaceOf,
    stepsOf: travelStepsOf,
    pathOf: placesOf,
    seen: 1,
  };
  const seen = reachOf(study, node);
  if (seen === 0) return [travel];
  return [
    travel,
    {
      kind: "orientation",
      pace: turnPaceOf(study, node),
      paceOf: turnPaceOf,
      stepsOf: turnStepsOf,
      pathOf: placesOf,
      seen,
    },
  ];
});

/**
 * How a node moves in the frame of what carries it: its own turn against its parent, and for a limb below its first
 * joint its travel against the node above that joint; for a tail behind a trunk that swings with it also against what
 * carries the trunk. Empty where that is how it moves in the world, and where its own
 * curves, or those of the limb above it, are still.
 */
export const carriedMotionsOf = motionsMeasure("carried motions", (study, node) => {
  const rig = rigOf(study);
  const parent = rig.parent[node];
  if (parent < 0 || worldOf(study, parent).still) return [];
  const motions: Motion[] = [];
  const seen = reachOf(study, node);
  const turn = seen > 0 ? ownTurnPaceOf(study, node) : null;
  if (turn !== null) {
    motions.push({
      kind: "orientation",
      pace: turn,
      paceOf: ownTurnPaceOf,
      stepsOf: ownTurnStepsOf,
      pathOf: placesOf,
      seen,
      carrier: parent,
    });
  }
  const addTravel = (carrier: number, of: Pick<Motion, "paceOf" | "stepsOf" | "pathOf">) => {
    const pace = carrier < 0 || worldOf(study, carrier).still ? null : of.paceOf(study, node);
    if (pace !== null) motions.push({ kind: "position", pace, ...of, seen: 1, carrier });
  };
  addTravel(limbCarrierOf(study, node), againstLimb);
  addTravel(trunkCarrierOf(study, node), againstTrunk);
  return motions;
});

const againstLimb = { paceOf: carriedTravelPaceOf, stepsOf: carriedTravelStepsOf, pathOf: limbPathOf };
const againstTrunk = { paceOf: trunkTravelPaceOf, stepsOf: trunkTravelStepsOf, pathOf: tailPathOf };

/**
 * How what carries a figure travels over the ground: empty for other nodes, and where nothing lifts it, as that is how it
 * travels in the world. A body that stops as if against a wall may still bob.
 */
export const levelMotionsOf = motionsMeasure("level motions", (study, node) => {
  const index = figureOfNode(study, node);
  if (index < 0 || carrierOf(figuresOf(study)[index]) !== node || worldOf(study, node).still) return [];
  if (!isLifted(worldOf(study, node).position)) return [];
  return [{ kind: "position", pace: levelTravelPaceOf(study, node), ...overGround, seen: 1, isLevel: true }];
});

function isLifted(path: Float64Array): boolean {
  for (let k = 4; k < path.length; k += 3) if (path[k] !== path[1]) return true;
  return false;
}

const overGround = { paceOf: levelTravelPaceOf, stepsOf: levelTravelStepsOf, pathOf: levelPathOf };

/** All of {@link motionsOf} and {@link carriedMotionsOf}: five checks ask for them. */
export const allMotionsOf = motionsMeasure("all motions", (study, node) => [
  ...motionsOf(study, node),
  ...carriedMotionsOf(study, node),
]);

const placesOf = (study: Study, node: number): Float64Array => worldOf(study, node).position;

/** Steps of a motion from pose to pose. */
export type Steps = Pick<Pace, "poses" | "steps">;

/** Motions whose paces are brought up to date in place, so that the list of them stays. */
function motionsMeasure(name: string, compute: (study: Study, node: number) => readonly Motion[]) {
  return patchedMeasure<number, readonly Motion[]>(
    name,
    compute,
    () => everywhere,
    (study, node, motions, from, to) => (areSame(motions, compute(study, node)) ? [from, to] : undefined),
  );
}

function areSame(before: readonly Motion[], now: readonly Motion[]): boolean {
  return (
    before.length === now.length &&
    before.every(({ pace, seen, carrier }, k) => {
      const other = now[k];
      return pace === other.pace && seen === other.seen && carrier === other.carrier;
    })
  );
}

/** Where a finding on a motion's poses stands, in grid indices. */
export function placeOf(study: Study, node: number, { pace }: Motion, from: number, to: number) {
  return { node, figure: figureOfNode(study, node), from: pace.poses[from], to: pace.poses[to] };
}
