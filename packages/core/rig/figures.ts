import { shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import type { BodyPart, FigureSpec } from "../document/schema.ts";
import {
  commonAncestor,
  distance,
  type Hierarchy,
  type HierarchyBase,
  heightOf,
  hierarchyBelow,
  readNames,
} from "./hierarchy.ts";
import { type PartMap, partsFromNames } from "./limbs-by-name.ts";
import { partsFromShape } from "./limbs-by-shape.ts";
import { chainOf, isAbove, type Rig, restPositionsOf, rigOf, subtreeOf } from "./rig.ts";
import { upIndexOf } from "./up.ts";

/** What a figure is taken for; it decides which checks look at it. */
export type FigureKind = "human" | "winged" | "other";

/** A character: which nodes it has and which of them is which part of the body. */
export interface Figure {
  readonly id: string;
  /** Whether the document names it. */
  readonly declared: boolean;
  /** Rig index of the figure's top node. The joint that carries the body is the part "root". */
  readonly root: number;
  /** Rig indices of all its nodes, parents before children. */
  readonly nodes: readonly number[];
  /** Joints of each part from the base outwards; limb parts hold the joint at which the limb segment starts. */
  readonly parts: ReadonlyMap<BodyPart, readonly number[]>;
  /** Part of a node; tips of chains count with the joint above them. */
  readonly partOf: ReadonlyMap<number, BodyPart>;
  readonly kind: FigureKind;
}

/** A figure, and how its parts were found. */
export interface FoundFigure {
  readonly figure: Figure;
  readonly counts: { readonly declared: number; readonly names: number; readonly shape: number };
}

/** What figures were found, and declared figures to which no node belongs. */
export interface FoundFigures {
  readonly found: readonly FoundFigure[];
  readonly without: readonly string[];
}

export const foundFiguresOf = shotMeasure<FoundFigures>(
  "found figures",
  (study) => {
    const header = headerOf(study);
    const rig = rigOf(study);
    const base = {
      rig,
      positions: restPositionsOf(study),
      up: upIndexOf(study),
      ...readNames(rig),
    };
    const cameras = (header.cameras ?? []).flatMap((camera) => rig.indexOf.get(camera.node) ?? []);
    return findFigures(base, header.figures ?? [], cameras);
  },
  sameFigures,
);

function findFigures(
  base: HierarchyBase,
  specs: readonly FigureSpec[],
  cameras: readonly number[],
): FoundFigures {
  const { rig } = base;
  const roots = figureRoots(base, cameras);
  const claims = specs.map((spec) => claimedRoot(rig, spec));
  claimByName(base, specs, claims, roots);
  const found: FoundFigure[] = [];
  const without: string[] = [];
  const ids = new Set(specs.map((spec) => spec.id));
  const claimed = claims.filter((root) => root >= 0);
  specs.forEach((spec, i) => {
    if (claims[i] < 0) without.push(spec.id);
    else found.push(buildFigure(hierarchyBelow(base, claims[i], claimed), spec.id, spec));
  });
  for (const root of roots) {
    if (claimed.some((other) => isAbove(rig, other, root) || isAbove(rig, root, other))) continue;
    const space = base.names[root].space;
    // A name by which a document can declare the figure: `claimByName` finds it again.
    let id = space === "" || ids.has(space) ? rig.ids[root] : space;
    for (let n = 2; ids.has(id); n++) id = `${rig.ids[root]} ${n}`;
    ids.add(id);
    found.push(buildFigure(hierarchyBelow(base, root), id, null));
  }
  return { found, without };
}

/** Root of a declared figure: the declared root part, else the top node over all declared parts; -1 if none is declared. */
function claimedRoot(rig: Rig, spec: FigureSpec): number {
  const indices = (ids: string | string[] | undefined) =>
    (ids === undefined ? [] : [ids].flat()).flatMap((id) => rig.indexOf.get(id) ?? []);
  const declared = indices(spec.parts?.root);
  if (declared.length > 0) return declared[0];
  const all = Object.values(spec.parts ?? {}).flatMap(indices);
  const common = all.length > 0 ? commonAncestor(rig, all) : -1;
  return common >= 0 ? chainOf(rig, common)[0] : (all[0] ?? -1);
}

/** Gives declared figures that name no node a hierarchy: by name space or root id, else the next one that is free. */
function claimByName(
  base: HierarchyBase,
  specs: readonly FigureSpec[],
  claims: number[],
  roots: readonly number[],
): void {
  const { rig, names } = base;
  const free = () => roots.filter((root) => !claims.some((other) => overlaps(rig, root, other)));
  const fits = [
    (root: number, spec: FigureSpec) => names[root].space === spec.id || rig.ids[root] === spec.id,
    () => true,
  ];
  for (const fit of fits) {
    specs.forEach((spec, i) => {
      if (claims[i] < 0) claims[i] = free().find((root) => fit(root, spec)) ?? -1;
    });
  }
}

function overlaps(rig: Rig, a: number, b: number): boolean {
  return b >= 0 && (isAbove(rig, a, b) || isAbove(rig, b, a));
}

/** Top nodes of whatever may be a figure: hierarchies of two nodes and more, those that hold several bodies split. */
function figureRoots(base: HierarchyBase, cameras: readonly number[]): number[] {
  const { rig, names } = base;
  const roots: number[] = [];
  for (let node = 0; node < rig.count; node += rig.subtreeSize[node]) {
    for (const root of splitBodies(base, node)) {
      if (rig.subtreeSize[root] < 2) continue;
      if (cameras.some((camera) => isAbove(rig, root, camera)) && !looksLikeBody(base, root)) continue;
      const { word } = names[root];
      if ((word === "scene" || word === "prop") && !looksLikeBody(base, root)) continue;
      roots.push(root);
    }
  }
  return roots;
}

function looksLikeBody(base: HierarchyBase, root: number): boolean {
  const h = hierarchyBelow(base, root);
  return kindOf(h, partsFromNames(h)) !== "other" || partsFromShape(h).size > 0;
}

/** A hierarchy's root, or, where several bodies hang below one node, the top node of each. */
function splitBodies(base: HierarchyBase, top: number): number[] {
  const { rig, names } = base;
  const isPelvis = (node: number) => names[node].word === "pelvis" && names[node].side === null;
  const tops: number[] = [];
  const waiting = [top];
  for (let root = waiting.pop(); root !== undefined; root = waiting.pop()) {
    let fork = root;
    while (!isPelvis(fork) && rig.children[fork].length === 1) fork = rig.children[fork][0];
    const children = rig.children[fork];
    const holds = (child: number) => {
      for (let i = child; i < child + rig.subtreeSize[child]; i++) if (isPelvis(i)) return true;
      return false;
    };
    const named = children.filter(holds).length;
    const several =
      !isPelvis(fork) &&
      (named > 1 || (named === 0 && children.filter((child) => isBodyByShape(base, child)).length > 1));
    if (several) waiting.push(...[...children].reverse());
    else tops.push(root);
  }
  return tops;
}

/** Whether a subtree has the shape of a biped; one of few nodes cannot. */
function isBodyByShape(base: HierarchyBase, root: number): boolean {
  return base.rig.subtreeSize[root] >= 6 && partsFromShape(hierarchyBelow(base, root)).size > 0;
}

function buildFigure(h: Hierarchy, id: string, spec: FigureSpec | null): FoundFigure {
  const parts: PartMap = new Map();
  const taken = new Set<number>();
  const counts = { declared: 0, names: 0, shape: 0 };
  const add = (source: keyof typeof counts, part: BodyPart, nodes: readonly number[]) => {
    const free = nodes.filter((node) => !taken.has(node));
    if (parts.has(part) || free.length === 0) return;
    parts.set(part, free);
    for (const node of free) taken.add(node);
    counts[source]++;
  };
  for (const [part, ids] of Object.entries(spec?.parts ?? {})) {
    const nodes = [ids ?? []].flat().flatMap((name) => h.rig.indexOf.get(name) ?? []);
    add("declared", part as BodyPart, nodes);
  }
  const named = partsFromNames(h);
  if (standsOnHands(h, named)) addUnnamedJoints(h, named);
  for (const [part, nodes] of named) add("names", part, nodes);
  // Whoever declares limbs says what stands: fins that hang low are no legs.
  const declaresLimbs = (spec?.limbs ?? []).length > 0;
  if (!declaresLimbs && needsShape(parts))
    for (const [part, nodes] of partsFromShape(h)) add("shape", part, nodes);
  const kind = kindOf(h, parts);
  if (!parts.has("root")) {
    // What carries all is the root, whatever it is called: the thorax of an insect.
    for (const [part, nodes] of parts) if (nodes.length === 1 && nodes[0] === h.root) parts.delete(part);
    taken.delete(h.root);
    add("shape", "root", [h.root]);
  }
  const figure = {
    id,
    declared: spec !== null,
    root: h.root,
    nodes: withDeclared(h, parts),
    parts,
    partOf: partOf(h, parts),
    kind,
  };
  return { figure, counts };
}

/**
 * The nodes below a figure's root and those of its parts: a declared part may hang elsewhere, as a foot that is keyed
 * in the world does, with all that hangs on it.
 */
function withDeclared(h: Hierarchy, parts: PartMap): readonly number[] {
  const nodes = new Set(h.nodes);
  const inside = nodes.size;
  for (const list of parts.values()) {
    for (const node of list)
      if (!nodes.has(node)) for (const below of subtreeOf(h.rig, node)) nodes.add(below);
  }
  return nodes.size === inside ? h.nodes : [...nodes].sort((a, b) => a - b);
}

const limbParts = ["UpperArm", "Forearm", "Hand", "Thigh", "Shin", "Foot", "Toes"] as const;

/** Whether parts that every biped has are still to be found. */
function needsShape(parts: PartMap): boolean {
  return (
    !["root", "head", "chest"].every((part) => parts.has(part as BodyPart)) ||
    limbParts.some((part) => !parts.has(`left${part}`) || !parts.has(`right${part}`))
  );
}

function kindOf(h: Hierarchy, parts: PartMap): FigureKind {
  const both = (...names: (typeof limbParts)[number][]) =>
    names.every((part) => parts.has(`left${part}`) && parts.has(`right${part}`));
  const arms = both("UpperArm", "Hand");
  if (parts.has("leftWing") && parts.has("rightWing") && !arms) return "winged";
  if (standsOnHands(h, parts)) return "other";
  return both("Thigh", "Foot") || (arms && parts.has("head")) ? "human" : "other";
}

/** Whether the hands stand as low as the feet in the rest pose, as those of a figure on four legs do. */
function standsOnHands(h: Hierarchy, parts: PartMap): boolean {
  const heights = (part: BodyPart) => (parts.get(part) ?? []).slice(0, 1).map((node) => heightOf(h, node));
  // Where no name tells the paw, it is what hangs lowest on the foreleg.
  const lowest = (part: BodyPart) =>
    (parts.get(part) ?? [])
      .slice(0, 1)
      .map((node) => Math.min(...subtreeOf(h.rig, node).map((below) => heightOf(h, below))));
  const hands = (["left", "right"] as const).flatMap((side) => {
    const hand = heights(`${side}Hand`);
    const limb = parts.has(`${side}Forearm`) ? lowest(`${side}Forearm`) : lowest(`${side}UpperArm`);
    return hand.length > 0 ? hand : limb;
  });
  const feet = [...heights("leftFoot"), ...heights("rightFoot")];
  const [root] = heights("root");
  if (hands.length === 0 || feet.length === 0 || root === undefined) return false;
  const floor = Math.min(...feet);
  return root > floor && Math.max(...hands) < floor + 0.2 * (root - floor);
}

/**
 * On four legs wrist and hock stand clear of the ground, and seldom have a name that is known: where one joint without a
 * part lies between the second joint of a limb and its paw, that is the third one, and the paw is what comes after it.
 */
function addUnnamedJoints(h: Hierarchy, parts: PartMap): void {
  for (const side of ["left", "right"] as const) {
    for (const [second, third, outer] of [
      ["Forearm", "Hand", "Fingers"],
      ["Shin", "Foot", "Toes"],
    ] as const) {
      const [middle, paw] = [parts.get(`${side}${second}`)?.[0], parts.get(`${side}${third}`)?.[0]];
      if (middle === undefined || paw === undefined) continue;
      const between = h.rig.parent[paw];
      const isBetween = between >= 0 && h.rig.parent[between] === middle;
      if (!isBetween || h.names[between].word !== null || h.names[between].aid) continue;
      if (!(distance(h.positions, middle, between) > 0 && distance(h.positions, between, paw) > 0)) continue;
      parts.set(`${side}${third}`, [between]);
      parts.set(`${side}${outer}`, [paw, ...(parts.get(`${side}${outer}`) ?? [])]);
    }
  }
}

function partOf(h: Hierarchy, parts: PartMap): Map<number, BodyPart> {
  const of = new Map<number, BodyPart>();
  for (const [part, nodes] of parts) for (const node of nodes) of.set(node, part);
  for (const node of h.nodes) {
    if (of.has(node) || !h.names[node].end) continue;
    const above = of.get(h.rig.parent[node]);
    if (above !== undefined) of.set(node, above);
  }
  return of;
}

function sameFigures(a: FoundFigures, b: FoundFigures): boolean {
  return JSON.stringify(a, plain) === JSON.stringify(b, plain);
}

function plain(_key: string, value: unknown): unknown {
  return value instanceof Map ? [...value] : value;
}
