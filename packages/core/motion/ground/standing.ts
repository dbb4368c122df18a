import { measure, type Study } from "../../base/study.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { verdictOf } from "../../rig/verdict.ts";
import { footPointsOf } from "./feet.ts";
import { groundOf, levelOf, sharedLevelOf, standAtRest } from "./foot.ts";
import { highestShares } from "./foot-points.ts";
import { highestStandOf, restHeightOver } from "./rest-stand.ts";
import type { Surface } from "./surface.ts";

/** How high a point of a foot stands over a surface when planted. */
export interface Standing {
  /** Metres. */
  readonly level: number;
  /** Whether the document declares it, or the rest pose says it and a foot stands so in the shot. */
  readonly known: boolean;
}

/** Points that share a level: those of one kind of the named feet, and the ends of other limbs. */
type Sharing = keyof typeof highestShares | "end";

/**
 * How high each point of a figure's feet stands over the ground when planted: joints lie inside the foot, so that this
 * is the thickness of the sole and what is above it. Where the rest pose stands on the ground it says so, as far as the
 * feet are seen as low. Else left and right share the level at which they stand (see `sharedLevelOf`); it is never
 * negative nor more than a foot's build explains, so that a figure that floats or sinks all through a shot does. Ends
 * of other limbs have a level each.
 * @returns by node, the ends of toes included
 */
export const standingsOf = measure(
  "standings",
  (study, figure: number): ReadonlyMap<number, Standing> => {
    const ground = groundOf(study);
    const standings = new Map<number, Standing>();
    const groups = new Map<Sharing, number[]>();
    const add = (sharing: Sharing, node: number) =>
      groups.set(sharing, [...(groups.get(sharing) ?? []), node]);
    for (const { node, point, tip, sole, isNamed } of footPointsOf(study, figure)) {
      if (sole !== null) standings.set(node, { level: sole, known: true });
      else add(!isNamed ? "end" : point === "toe" ? "ball" : "ankle", node);
      if (tip >= 0) add("tip", tip);
    }
    for (const [sharing, nodes] of groups) {
      if (sharing === "end") endLevels(study, figure, nodes, ground, standings);
      else {
        const shared = sharedLevel(study, figure, nodes, highestShares[sharing], ground);
        for (const node of nodes) standings.set(node, shared);
      }
    }
    return standings;
  },
  (a, b) =>
    a.size === b.size &&
    [...a].every(([node, { level, known }]) => b.get(node)?.level === level && b.get(node)?.known === known),
);

/** Height at which a point of a foot stands over a surface when planted, metres; 0 for any other node. */
export function standingLevelOf(study: Study, figure: number, node: number): number {
  return standingsOf(study, figure).get(node)?.level ?? 0;
}

/**
 * Whether a foot is one by the shape of a body alone, and is not seen to stand as in the rest pose: what hangs as low as
 * legs, as arms do between wheels, may never stand.
 */
export function isFootByShape(study: Study, figure: number, node: number): boolean {
  if (figuresOf(study)[figure].kind !== "human") return false;
  if (verdictOf(study).bodies[figure]?.certainty !== "guessed") return false;
  return standingsOf(study, figure).get(node)?.known !== true;
}

/** The one level of points of a kind. */
function sharedLevel(
  study: Study,
  figure: number,
  nodes: readonly number[],
  share: number,
  ground: Surface,
): Standing {
  const stature = statureOf(study, figure);
  const found = nodes
    .map((node) => levelOf(study, node, ground, stature))
    .filter((height) => height !== null);
  const most = share * stature;
  const rest = restLevel(study, figure, nodes, ground);
  if (rest === null || rest > highestShares.ankle * stature) {
    const shared = sharedLevelOf(study, nodes, ground, stature) ?? most;
    return { level: Math.max(0, Math.min(shared, most)), known: false };
  }
  const known = standAtRest(study, nodes, ground, stature, new Array(nodes.length).fill(rest));
  if (known || found.length === 0) return { level: rest, known };
  // Where no foot stands as it does at rest, the sole is not thicker than that, nor than any foot is seen to stand.
  return { level: Math.max(0, Math.min(rest, Math.max(...found))), known: false };
}

/**
 * The levels of ends of limbs. Those that stand equally high in the rest pose are built alike: the paws of one pair, the
 * feet of a spider. They stand as at rest where one of them does so in the shot, else no higher than one of them is seen.
 */
function endLevels(
  study: Study,
  figure: number,
  nodes: readonly number[],
  ground: Surface,
  standings: Map<number, Standing>,
): void {
  const stature = statureOf(study, figure);
  const rests = nodes.map((node) => restHeightOver(study, figure, node, ground));
  nodes.forEach((node, i) => {
    const rest = rests[i];
    const most = Math.min(rest ?? Number.POSITIVE_INFINITY, highestStandOf(study, figure, node));
    const alike = nodes.filter((_, k) => rest !== null && areAlike(rests[k], rest, stature));
    const known =
      rest !== null && standAtRest(study, alike, ground, stature, new Array(alike.length).fill(rest));
    const seen = (rest === null ? [node] : alike)
      .map((other) => levelOf(study, other, ground, stature))
      .filter((level) => level !== null);
    const own = seen.length === 0 ? most : Math.max(...seen);
    standings.set(node, { level: known ? most : Math.max(0, Math.min(own, most)), known });
  });
}

/** Ends whose heights in the rest pose differ by less than this share of the body (2 mm of a grown person) are alike. */
const alikeShare = 0.001;

function areAlike(a: number | null, b: number, stature: number): boolean {
  return a !== null && Math.abs(a - b) < alikeShare * stature;
}

/** Height at which some points stand over the ground in the rest pose, the highest of them; null if one does not. */
function restLevel(study: Study, figure: number, nodes: readonly number[], ground: Surface): number | null {
  let highest: number | null = null;
  for (const node of nodes) {
    const height = restHeightOver(study, figure, node, ground);
    if (height === null) return null;
    highest = Math.max(highest ?? height, height);
  }
  return highest;
}
