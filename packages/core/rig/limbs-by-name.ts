import type { BodyPart } from "../document/schema.ts";
import { commonAncestor, distance, type Hierarchy } from "./hierarchy.ts";
import type { PartWord, Side } from "./parts-by-name.ts";
import { isAbove } from "./rig.ts";

/** Joints of each part, from the base outwards. */
export type PartMap = Map<BodyPart, number[]>;

const armWords: readonly PartWord[] = ["collar", "shoulder", "arm", "upperArm", "forearm", "hand"];
const legWords: readonly PartWord[] = ["hip", "thigh", "leg", "shin", "foot", "toes"];

/**
 * Parts that names tell, the ambiguous words settled by the order of joints along the limb: `Leg` below `UpLeg` is
 * the shin, `Leg` above `Knee` the thigh; `Shoulder` above `Arm` is the collar joint, below `Collar` the upper arm.
 */
export function partsFromNames(h: Hierarchy): PartMap {
  const parts: PartMap = new Map();
  for (const side of ["left", "right"] as const) {
    const feathers = h.nodes.filter((node) => h.names[node].word === "wing" && h.sides[node] === side);
    const wing = featheredArm(h, side, feathers);
    if (wing.length === 0) addArm(h, side, parts);
    if (!hasMoreLegs(h, side)) addLeg(h, side, parts);
    if (feathers.length > 0) parts.set(`${side}Wing`, [...wing, ...feathers]);
  }
  for (const part of ["tail", "ears", "hair"] as const) {
    addAll(h, parts, part, (node) => h.names[node].word === part);
  }
  addAll(h, parts, "prop", (node) => h.names[node].word === "prop");
  addTrunk(h, parts);
  return parts;
}

/** Nodes of a word on a side; tips of chains are left out. */
function nodesOf(h: Hierarchy, word: PartWord, side: Side | null): number[] {
  return h.nodes.filter(
    (node) =>
      h.names[node].word === word &&
      !h.names[node].end &&
      (side === null ? h.names[node].side === null : h.sides[node] === side),
  );
}

function addAll(h: Hierarchy, parts: PartMap, part: BodyPart, is: (node: number) => boolean): void {
  const nodes = h.nodes.filter(is);
  if (nodes.length > 0) parts.set(part, nodes);
}

/** The joints of an arm on which feathers hang: all of it is the wing. */
function featheredArm(h: Hierarchy, side: Side, feathers: readonly number[]): number[] {
  return h.nodes.filter((node) => {
    const { word } = h.names[node];
    const isArm = word !== null && word !== "collar" && armWords.includes(word) && h.sides[node] === side;
    return isArm && feathers.some((feather) => feather !== node && isAbove(h.rig, node, feather));
  });
}

/** Whether several legs of a side hang beside each other, as those of insects do: none of them is the leg of a biped. */
function hasMoreLegs(h: Hierarchy, side: Side): boolean {
  const legs = [...nodesOf(h, "thigh", side), ...nodesOf(h, "leg", side)];
  const tops = legs.filter((node) => !legs.some((other) => other !== node && isAbove(h.rig, other, node)));
  return tops.filter((node) => legWords.some((word) => wordBelow(h, node, word))).length > 1;
}

function wordBelow(h: Hierarchy, top: number, word: PartWord): boolean {
  return h.nodes.some((node) => node !== top && h.names[node].word === word && isAbove(h.rig, top, node));
}

/** The joints of a limb on the way to its outermost named joint, in order, by word. */
function limbChain(h: Hierarchy, side: Side, words: readonly PartWord[]): Map<PartWord, number[]> {
  const found = h.nodes.filter((node) => {
    const { word, end } = h.names[node];
    return word !== null && words.includes(word) && !end && h.sides[node] === side;
  });
  const rank = (node: number) => words.indexOf(h.names[node].word as PartWord);
  const outermost = found.reduce((best, node) => (best < 0 || rank(node) > rank(best) ? node : best), -1);
  const tip = found.reduce(
    (best, node) => (best >= 0 && isAbove(h.rig, best, node) ? node : best),
    outermost,
  );
  const chain = new Map<PartWord, number[]>(words.map((word) => [word, []]));
  for (const node of found)
    if (isAbove(h.rig, node, tip)) chain.get(h.names[node].word as PartWord)?.push(node);
  return chain;
}

function addArm(h: Hierarchy, side: Side, parts: PartMap): void {
  const chain = limbChain(h, side, armWords);
  const [collars, shoulders, arms, uppers, forearms, hands] = armWords.map((word) => chain.get(word) ?? []);
  const slots: (number | undefined)[] = [collars[0], uppers[0], forearms[0], hands[0]];
  for (const shoulder of shoulders) {
    if (slots[0] === undefined && (slots[1] !== undefined || arms.length > 0)) slots[0] = shoulder;
    else slots[1] ??= shoulder;
  }
  for (const arm of arms) {
    const free = [1, 2, 3].find((slot) => slots[slot] === undefined);
    if (free !== undefined && inOrder(slots, free, arm)) slots[free] = arm;
  }
  const names = ["Shoulder", "UpperArm", "Forearm", "Hand"] as const;
  slots.forEach((node, slot) => {
    if (node !== undefined) parts.set(`${side}${names[slot]}`, [node]);
  });
  const fingers = digits(h, side, "finger").filter((node) => !isOnLeg(h, node));
  const [hand, paw] = hands;
  if (fingers.length > 0) parts.set(`${side}Fingers`, fingers);
  else if (hand === slots[3] && paw !== undefined && distance(h.positions, hand, paw) > 0)
    parts.set(`${side}Fingers`, [paw]);
}

function digits(h: Hierarchy, side: Side, word: "finger" | "toes"): number[] {
  return h.nodes.filter((node) => h.names[node].word === word && h.sides[node] === side);
}

/** Whether a node hangs on a leg: many languages have one word for fingers and toes. */
function isOnLeg(h: Hierarchy, node: number): boolean {
  for (let at = h.rig.parent[node]; at >= 0; at = h.rig.parent[at]) {
    const { word } = h.names[at];
    if (word !== null && word !== "toes" && legWords.includes(word)) return true;
  }
  return false;
}

function addLeg(h: Hierarchy, side: Side, parts: PartMap): void {
  const chain = limbChain(h, side, legWords);
  const [hips, thighs, legs, shins, feet, toes] = legWords.map((word) => chain.get(word) ?? []);
  if (
    thighs.length > 0 &&
    legs.length === 1 &&
    shins.length > 0 &&
    thighs[0] < legs[0] &&
    legs[0] < shins[0]
  ) {
    // A leg between thigh and shank is the shin of one that stands on its toes, as a bird does.
    shins.unshift(...legs.splice(0));
    feet.unshift(...shins.splice(1));
  }
  // Where one word is the leg's and the foot's, what hangs below an ankle is the foot.
  for (const leg of legs.filter(
    (node) => feet[0] !== undefined && node !== feet[0] && isAbove(h.rig, feet[0], node),
  )) {
    legs.splice(legs.indexOf(leg), 1);
    feet.push(leg);
  }
  const slots: (number | undefined)[] = [thighs[0], shins[0], feet[0]];
  const needed = (slots[0] === undefined ? 1 : 0) + (slots[1] === undefined ? 1 : 0);
  if (slots[0] === undefined && hips.length > 0 && legs.length < needed) slots[0] = hips[0];
  for (const leg of legs) {
    const free = [0, 1, 2].find((slot) => slots[slot] === undefined);
    if (free !== undefined && inOrder(slots, free, leg)) slots[free] = leg;
  }
  const names = ["Thigh", "Shin", "Foot"] as const;
  slots.forEach((node, slot) => {
    if (node !== undefined) parts.set(`${side}${names[slot]}`, [node]);
  });
  const foot = slots[2];
  if (foot === undefined) return;
  const second = feet.find((node) => node !== foot && distance(h.positions, node, foot) > 0);
  const named = [...digits(h, side, "toes"), ...digits(h, side, "finger").filter((node) => isOnLeg(h, node))];
  // Tips alone are no toes where the foot has a second joint: a dog's hock stands above its paw.
  const areTips = second !== undefined && named.every((node) => h.names[node].end);
  if ((toes.length > 0 || named.length > 0) && !areTips) parts.set(`${side}Toes`, named);
  else if (second !== undefined) parts.set(`${side}Toes`, [second]);
  else {
    const ends = h.rig.children[foot].filter((node) => h.names[node].end);
    if (ends.length > 0) parts.set(`${side}Toes`, ends.slice(0, 1));
  }
}

/** Whether a node stands where a slot needs it: below the joints before, above the joints after. Rig order is depth first. */
function inOrder(slots: readonly (number | undefined)[], slot: number, node: number): boolean {
  return slots.every(
    (other, i) => other === undefined || i === slot || (i < slot ? other < node : other > node),
  );
}

function addTrunk(h: Hierarchy, parts: PartMap): void {
  const spine = nodesOf(h, "spine", null);
  const chests = nodesOf(h, "chest", null);
  if (chests.length === 0 && spine.length > 0) chests.push(spine.pop() as number);
  if (spine.length > 0) parts.set("spine", spine);
  if (chests.length > 0) parts.set("chest", chests);
  const necks = nodesOf(h, "neck", null);
  if (necks.length > 0) parts.set("neck", necks);
  for (const part of ["head", "jaw"] as const) {
    const first = nodesOf(h, part, null)[0];
    if (first !== undefined) parts.set(part, [first]);
  }
  const root = rootFromNames(h, parts);
  if (root >= 0) parts.set("root", [root]);
}

/** The joint that carries the body: a pelvis by name, else the joint named root if legs and spine part there or below. */
function rootFromNames(h: Hierarchy, parts: PartMap): number {
  const pelvis = nodesOf(h, "pelvis", null)[0];
  if (pelvis !== undefined) return pelvis;
  const branches = [parts.get("leftThigh"), parts.get("rightThigh"), parts.get("spine") ?? parts.get("chest")]
    .flatMap((nodes) => nodes?.slice(0, 1) ?? [])
    .map((node) => (h.rig.parent[node] >= 0 ? h.rig.parent[node] : node));
  const carrying = branches.length > 1 ? commonAncestor(h.rig, branches) : -1;
  if (carrying >= 0 && h.nodes.includes(carrying)) return carrying;
  return nodesOf(h, "root", null)[0] ?? -1;
}
