import { distance, type Hierarchy, heightOf, pathBetween } from "./hierarchy.ts";
import type { PartMap } from "./limbs-by-name.ts";
import type { PartWord, Side } from "./parts-by-name.ts";
import { lengthShare } from "./proportions.ts";
import { isAbove } from "./rig.ts";

/** Two limbs that mirror each other, and where they part. */
interface Pair {
  readonly branch: number;
  /** Outermost nodes, left first. */
  readonly tips: readonly [number, number];
}

/**
 * Parts of a biped from the shape of its rest pose alone: two long chains that reach the lowest points (legs), a
 * chain that goes up from where they part (spine to head), and two side chains off that one (arms). Left and right
 * follow names where those tell, else the direction in which the feet point. Empty where there are no two legs.
 */
export function partsFromShape(h: Hierarchy): PartMap {
  const parts: PartMap = new Map();
  const legs = findLegs(h);
  if (legs === null) return parts;
  const top = findTop(h, legs);
  if (top < 0) return parts;
  const root = commonNode(h, legs.branch, top);
  parts.set("root", [root]);
  const spine = pathBetween(h.rig, root, top).slice(1);
  const arms = findArms(h, spine.slice(0, -1), legs);
  const left = leftAxis(h, legs);
  addLimbs(h, parts, sorted(h, legs, left), ["Thigh", "Shin", "Foot", "Toes"], {
    near: lengthShare.thigh,
    far: lengthShare.shin,
  });
  if (arms !== null) {
    addLimbs(h, parts, sorted(h, arms, left), ["UpperArm", "Forearm", "Hand", "Fingers"], {
      near: lengthShare.upperArm,
      far: lengthShare.forearm,
    });
  }
  addTrunk(h, parts, spine, arms);
  return parts;
}

function extentUp(h: Hierarchy): { low: number; high: number } {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const node of h.nodes) {
    low = Math.min(low, heightOf(h, node));
    high = Math.max(high, heightOf(h, node));
  }
  return { low, high };
}

/** The nodes of the figure below a node, itself included. */
function below(h: Hierarchy, node: number): number[] {
  const nodes: number[] = [];
  for (let i = node; i < node + h.rig.subtreeSize[node]; i++) if (h.owns[i] === 1) nodes.push(i);
  return nodes;
}

function childrenIn(h: Hierarchy, node: number): number[] {
  return h.rig.children[node].filter((child) => h.owns[child] === 1);
}

/** The lowest node where two child subtrees of like depth part, both of which reach near the figure's lowest point. */
function findLegs(h: Hierarchy): Pair | null {
  const { low, high } = extentUp(h);
  const height = high - low;
  if (!(height > 0)) return null;
  const { lowest, top } = reachesOf(h);
  for (let i = h.nodes.length - 1; i >= 0; i--) {
    const branch = h.nodes[i];
    const depth = (child: number) => heightOf(h, branch) - heightOf(h, lowest[child]);
    const reaching = childrenIn(h, branch).filter(
      (child) =>
        heightOf(h, lowest[child]) < low + 0.1 * height &&
        top[child] < low + 0.7 * height &&
        depth(child) > 0.3 * height &&
        h.rig.subtreeSize[child] >= 2 &&
        !isCalledOther(h, child, lowest[child]),
    );
    if (reaching.length === 2) {
      if (standsOnMore(h, branch, reaching, low + 0.1 * height)) return null;
      return { branch, tips: [outermost(h, lowest[reaching[0]]), outermost(h, lowest[reaching[1]])] };
    }
  }
  return null;
}

/** What hangs as low as legs do and is none, by its name: the arms of a puppet that ends at the waist, a whale's fins. */
const otherLimbs: ReadonlySet<PartWord | null> = new Set<PartWord | null>([
  ...(["arm", "upperArm", "forearm", "hand", "finger", "wing", "tail", "ears", "hair"] as const),
]);

function isCalledOther(h: Hierarchy, top: number, end: number): boolean {
  for (let node = end; ; node = h.rig.parent[node]) {
    if (h.names[node].fin || otherLimbs.has(h.names[node].word)) return true;
    if (node === top) return false;
  }
}

/**
 * Whether anything but two legs, tails, hair and props reaches below a height: a body on four legs and more. What hangs
 * from the joint where the legs part has to do so with two ends: one is a tail.
 */
function standsOnMore(h: Hierarchy, branch: number, legs: readonly number[], height: number): boolean {
  let ends = 0;
  for (const node of h.nodes) {
    const { word } = h.names[node];
    if (heightOf(h, node) >= height || isAbove(h.rig, node, branch)) continue;
    if (word === "tail" || word === "prop" || word === "hair") continue;
    if (!isAbove(h.rig, branch, node)) return true;
    const isEnd = childrenIn(h, node).length === 0;
    if (isEnd && !legs.some((leg) => isAbove(h.rig, leg, node))) ends++;
  }
  return ends >= 2;
}

/** Per node of the rig: the lowest node of its subtree, and the height of the highest one. */
function reachesOf(h: Hierarchy): { lowest: Int32Array; top: Float64Array } {
  const lowest = Int32Array.from({ length: h.rig.count }, (_, node) => node);
  const top = Float64Array.from({ length: h.rig.count }, (_, node) => heightOf(h, node));
  for (let i = h.nodes.length - 1; i > 0; i--) {
    const node = h.nodes[i];
    const up = h.rig.parent[node];
    if (heightOf(h, lowest[node]) <= heightOf(h, lowest[up])) lowest[up] = lowest[node];
    top[up] = Math.max(top[up], top[node]);
  }
  return { lowest, top };
}

/** The last node of the chain through a node, taking the longest way down. */
function outermost(h: Hierarchy, node: number): number {
  return below(h, node).reduce((a, b) =>
    distance(h.positions, node, b) > distance(h.positions, node, a) ? b : a,
  );
}

/** The head's end: of the nodes near the top, the one nearest the plane between the legs. */
function findTop(h: Hierarchy, legs: Pair): number {
  const { low, high } = extentUp(h);
  const side = sideAxis(h, legs.tips);
  const origin = 3 * legs.branch;
  const inLegs = (node: number) => legs.tips.some((tip) => isAbove(h.rig, legStart(h, legs, tip), node));
  let best = -1;
  let bestScore = Number.POSITIVE_INFINITY;
  for (const node of h.nodes) {
    if (inLegs(node)) continue;
    const height = heightOf(h, node);
    if (height < low + 0.8 * (high - low)) continue;
    const aside = Math.abs(along(h, node, side, origin));
    const score = aside * 2 + (high - height);
    if (score <= bestScore) {
      bestScore = score;
      best = node;
    }
  }
  return best;
}

function legStart(h: Hierarchy, legs: Pair, tip: number): number {
  return pathBetween(h.rig, legs.branch, tip)[1];
}

function commonNode(h: Hierarchy, a: number, b: number): number {
  let at = a;
  while (at >= 0 && !isAbove(h.rig, at, b)) at = h.rig.parent[at];
  return at;
}

/** Horizontal direction from the second tip to the first, unit length; zero where they are above each other. */
function sideAxis(h: Hierarchy, tips: readonly [number, number]): number[] {
  const axis = [0, 1, 2].map((i) =>
    i === h.up ? 0 : h.positions[3 * tips[0] + i] - h.positions[3 * tips[1] + i],
  );
  const length = Math.hypot(...axis);
  return length > 0 ? axis.map((part) => part / length) : axis;
}

function along(h: Hierarchy, node: number, axis: readonly number[], origin: number): number {
  return axis.reduce((sum, part, i) => sum + part * (h.positions[3 * node + i] - h.positions[origin + i]), 0);
}

/** The pair of side branches off the spine that reach farthest to both sides and are alike in reach. */
function findArms(h: Hierarchy, spine: readonly number[], legs: Pair): Pair | null {
  const side = sideAxis(h, legs.tips);
  const { low, high } = extentUp(h);
  let best: Pair | null = null;
  let bestReach = 0.15 * (high - low);
  for (const branch of spine) {
    const off = childrenIn(h, branch)
      .filter((child) => !spine.includes(child) && !h.names[child].loose && below(h, child).length >= 3)
      .map((child) => {
        const tip = outermost(h, child);
        return { tip, aside: along(h, tip, side, 3 * branch), reach: distance(h.positions, child, tip) };
      });
    for (const one of off) {
      for (const other of off) {
        if (one.aside <= 0 || other.aside >= 0) continue;
        const reach = Math.min(one.reach, other.reach);
        if (reach < 0.6 * Math.max(one.reach, other.reach) || reach <= bestReach) continue;
        bestReach = reach;
        best = { branch, tips: [one.tip, other.tip] };
      }
    }
  }
  return best;
}

/**
 * Horizontal direction to the figure's left, from where the feet point. Where they point nowhere, as is common
 * practice: +x for y up (facing +z) and for z up (facing -y), -y for x up (facing +z).
 */
function leftAxis(h: Hierarchy, legs: Pair): number[] {
  const facing = [0, 0, 0];
  for (const tip of legs.tips) {
    const ankle = h.rig.parent[tip];
    for (let i = 0; i < 3; i++) {
      if (i !== h.up) facing[i] += h.positions[3 * tip + i] - h.positions[3 * ankle + i];
    }
  }
  const { low, high } = extentUp(h);
  if (Math.hypot(...facing) < 0.02 * (high - low)) return h.up === 0 ? [0, -1, 0] : [1, 0, 0];
  const before = (h.up + 1) % 3;
  const after = (h.up + 2) % 3;
  // up × facing, for the cyclic axes up, before, after.
  const left = [0, 0, 0];
  left[before] = -facing[after];
  left[after] = facing[before];
  return left;
}

/** Tips as left, right. */
function sorted(h: Hierarchy, pair: Pair, left: readonly number[]): Pair {
  const [one, other] = pair.tips;
  const named = (tip: number): Side | null => {
    const start = pathBetween(h.rig, pair.branch, tip);
    return start.map((node) => h.names[node].side).find((side) => side !== null) ?? null;
  };
  const oneIsLeft =
    named(one) === "left" ||
    named(other) === "right" ||
    (named(one) === null && named(other) === null && along(h, one, left, 3 * other) > 0);
  return { branch: pair.branch, tips: oneIsLeft ? [one, other] : [other, one] };
}

interface LimbShares {
  readonly near: number;
  readonly far: number;
}

type LimbNames = readonly ["Thigh" | "UpperArm", "Shin" | "Forearm", "Foot" | "Hand", "Toes" | "Fingers"];

/**
 * Names the joints of a limb: its two long bones are the neighbouring pair that comes nearest to a body's
 * proportions in ratio and in total length.
 */
function addLimbs(h: Hierarchy, parts: PartMap, pair: Pair, names: LimbNames, shares: LimbShares): void {
  const { low, high } = extentUp(h);
  const expected = (shares.near + shares.far) * (high - low);
  (["left", "right"] as const).forEach((side, i) => {
    const path = distinct(h, pathBetween(h.rig, pair.branch, pair.tips[i]).slice(1));
    let best = -1;
    let bestError = Number.POSITIVE_INFINITY;
    for (let k = 0; k + 2 < path.length; k++) {
      const near = distance(h.positions, path[k], path[k + 1]);
      const far = distance(h.positions, path[k + 1], path[k + 2]);
      const error =
        Math.log(far / near / (shares.far / shares.near)) ** 2 + Math.log((near + far) / expected) ** 2;
      if (error < bestError) {
        bestError = error;
        best = k;
      }
    }
    if (best < 0) return;
    if (best > 0 && names[0] === "UpperArm") parts.set(`${side}Shoulder`, [path[0]]);
    parts.set(`${side}${names[0]}`, [path[best]]);
    parts.set(`${side}${names[1]}`, [path[best + 1]]);
    parts.set(`${side}${names[2]}`, [path[best + 2]]);
    const outer = names[3] === "Toes" ? path.slice(best + 3, best + 4) : fingersBelow(h, path[best + 2]);
    if (outer.length > 0) parts.set(`${side}${names[3]}`, outer);
  });
}

function fingersBelow(h: Hierarchy, hand: number): number[] {
  const fingers = below(h, hand).filter((node) => node !== hand);
  return fingers.length > 1 || fingers.some((node) => !h.names[node].end) ? fingers : [];
}

/** Leaves out joints that stand where the one before them stands. */
function distinct(h: Hierarchy, path: readonly number[]): number[] {
  return path.filter((node, i) => i === 0 || distance(h.positions, node, path[i - 1]) > 0);
}

function addTrunk(h: Hierarchy, parts: PartMap, spine: readonly number[], arms: Pair | null): void {
  const joints = spine.filter((node, i) => i + 1 < spine.length || !h.names[node].end);
  const chest = arms === null ? -1 : joints.indexOf(arms.branch);
  if (chest > 0) parts.set("spine", joints.slice(0, chest));
  if (chest >= 0) parts.set("chest", [joints[chest]]);
  const upper = joints.slice(chest + 1);
  if (upper.length > 1 && startsChain(h, upper[upper.length - 1])) upper.pop();
  // Three and more above the arms: the last one is taken for the tip of the head, as capture files have it.
  const isTip = upper.length > 0 && childrenIn(h, upper[upper.length - 1]).length === 0;
  if (isTip && upper.length >= 3 && upper.length === spine.length - chest - 1) upper.pop();
  const head = upper.pop();
  if (head !== undefined) parts.set("head", [head]);
  if (chest >= 0 && upper.length > 0) parts.set("neck", upper);
  else if (chest < 0 && upper.length > 0) parts.set("spine", upper);
}

/** Whether a node begins a chain of three links and more without a branch: hair or the like, which hangs on the head. */
function startsChain(h: Hierarchy, node: number): boolean {
  let links = 1;
  for (let next = childrenIn(h, node); next.length === 1; next = childrenIn(h, next[0])) links++;
  return links >= 3 && below(h, node).length === links;
}
