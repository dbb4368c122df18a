import { trimmed } from "../base/number-words.ts";
import type { Study } from "../base/study.ts";
import { valueAt } from "../curve/evaluate.ts";
import type { Channel, Shot } from "../document/model.ts";
import { mostAdded } from "../faults/shared/keying/keying.ts";
import { allLimbsOf } from "../motion/ground/all-limbs.ts";
import { nodeNameOf } from "../notes/wording.ts";
import { figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import type { KeyChange, KeyState } from "./changes.ts";
import { arePoses, slidBy } from "./key-sets.ts";

/** The moves of an animator, in the order in which they are tried. */
export const moveKinds = [
  "key in time",
  "key in value",
  "handle",
  "interpolation",
  "key out",
  "breakdown",
  "slide",
  "offset",
  "limb",
  "rebuilt span",
] as const;
/** One of {@link moveKinds}. */
export type MoveKind = (typeof moveKinds)[number];

/** One thing that is done to keys. */
export interface KeyMove {
  readonly kind: MoveKind;
  /** The nodes of which keys change, the end of a limb first. */
  readonly nodes: readonly string[];
  /** Null where channels of a whole limb take part. */
  readonly channel: Channel | null;
  /** First and last key that it touches, frames of the document. */
  readonly frames: readonly [number, number];
  /** Keys that it changes, adds or takes out. */
  readonly keys: number;
  /** As it is read: "upper_arm_l rotation.x: key 1032 → 1034". */
  readonly text: string;
}

/** More single keys of a curve than this are no slip of a key any more. */
const fewKeys = 3;
/** A fix works on this many parts at most, joints or chains of them; limbs that are carried along count apart. */
const mostParts = 3;

/** Joints of a trunk: hips, spine, chest, neck and head. */
const trunkJoints = 5;

/** The versions of a shot between which keys change. */
export interface Versions {
  readonly before: Shot;
  readonly after: Shot;
}

/**
 * What is done to keys, told as an animator would do it.
 * @param study of either version
 * @param changes key by key
 */
export function movesIn(study: Study, versions: Versions, changes: readonly KeyChange[]): KeyMove[] {
  const byNode = groupsOf(changes, ({ node }) => node);
  const moves: KeyMove[] = [];
  for (const limb of allLimbs(study)) {
    const ids = [limb.root, limb.middle, limb.end].map((node) => rigOf(study).ids[node]);
    const own = ids.flatMap((id) => byNode.get(id) ?? []);
    const touched = ids.filter((id) => byNode.has(id));
    // Two joints of a limb that change together are solved anew: its end goes, or stays, as a whole.
    if (touched.length < 2 || !touched.includes(ids[1]) || most(addedByCurve(own)) > mostAdded) continue;
    if (touched.length === 2 && own.length < fewKeys) continue;
    for (const id of ids) byNode.delete(id);
    const [from, to] = framesIn(own);
    const name = nodeNameOf(study, limb.root).replace(/(upper arm|thigh)/, limb.kind);
    const by = slidBy(own);
    const how = by === null ? " solved anew" : `: ${own.length} keys slid by ${signed(by)},`;
    const text = `${name}${how} ${spanText(from, to)}`;
    moves.push({
      kind: by === null ? "limb" : "slide",
      nodes: touched.reverse(),
      channel: null,
      frames: [from, to],
      keys: own.length,
      text,
    });
  }
  for (const own of byNode.values()) {
    const curves = [...groupsOf(own, ({ channel }) => channel).values()];
    const ofCurves = curves.flatMap((curve) => movesOfCurve(versions, curve));
    const isAnew = ofCurves.some(({ kind }) => kind === "rebuilt span");
    moves.push(...(isAnew && arePoses(own) ? [posedAnew(own)] : ofCurves));
  }
  return moves.sort((a, b) => moveKinds.indexOf(a.kind) - moveKinds.indexOf(b.kind));
}

/** Poses of one joint that are taken anew, as one move. */
function posedAnew(changes: readonly KeyChange[]): KeyMove {
  const [{ node, channel }] = changes;
  const isOne = changes.every((change) => change.channel === channel);
  const [from, to] = framesIn(changes);
  const keys = changes.length;
  const text = `${node}${isOne ? ` ${channel}` : ""}: ${keys} keys turned anew where they stand, ${spanText(from, to)}`;
  return { kind: "offset", nodes: [node], channel: isOne ? channel : null, frames: [from, to], keys, text };
}

/** Whether moves rebuild a span, or so many parts that no animator would call them one correction. */
export function isRebuilt(study: Study, moves: readonly KeyMove[]): boolean {
  if (moves.some(({ kind }) => kind === "rebuilt span")) return true;
  const ofJoints = moves.filter(({ kind }) => kind !== "limb");
  const chains = chainsIn(study, new Set(ofJoints.flatMap(({ nodes }) => nodes)));
  const parts = chains.map((chain) =>
    partsOf(
      ofJoints.filter(({ nodes }) => chain.has(nodes[0])),
      chain,
    ),
  );
  return parts.reduce((sum, count) => sum + count, 0) > mostParts;
}

/** The chains of joints that some nodes are: a joint that is the only one of them below another belongs to its chain. */
function chainsIn(study: Study, ids: ReadonlySet<string>): Set<string>[] {
  const rig = rigOf(study);
  const nodes = new Set([...ids].flatMap((id) => rig.indexOf.get(id) ?? []));
  const below = new Map<number, number>();
  for (const node of nodes) below.set(rig.parent[node], (below.get(rig.parent[node]) ?? 0) + 1);
  const chains = new Map<number, Set<string>>();
  for (const node of [...nodes].sort((a, b) => rig.depth[a] - rig.depth[b])) {
    const up = rig.parent[node];
    const chain = nodes.has(up) && below.get(up) === 1 ? chains.get(up) : undefined;
    const own = chain ?? new Set<string>();
    own.add(rig.ids[node]);
    chains.set(node, own);
  }
  return [...new Set(chains.values())];
}

/**
 * How many parts a chain counts for. It is one where it is no longer than a trunk, where whole sets of its keys are slid
 * or offset, and where one pose of it changes; else a span of each joint is touched.
 */
function partsOf(moves: readonly KeyMove[], chain: ReadonlySet<string>): number {
  const ofKeys = moves.filter(({ kind }) => kind !== "slide" && kind !== "offset" && kind !== "handle");
  const frames = new Set(ofKeys.flatMap((move) => move.frames));
  return chain.size <= trunkJoints || frames.size <= 1 ? 1 : chain.size;
}

function allLimbs(study: Study) {
  return figuresOf(study).flatMap((_, figure) => allLimbsOf(study, figure));
}

function groupsOf<K>(changes: readonly KeyChange[], name: (change: KeyChange) => K): Map<K, KeyChange[]> {
  const groups = new Map<K, KeyChange[]>();
  for (const change of changes) {
    const group = groups.get(name(change));
    if (group === undefined) groups.set(name(change), [change]);
    else group.push(change);
  }
  return groups;
}

/** How many keys each curve gets that it did not have. */
function addedByCurve(changes: readonly KeyChange[]): number[] {
  return [...groupsOf(changes, ({ node, channel }) => `${node} ${channel}`).values()].map(
    (curve) => curve.filter(({ before }) => before === null).length,
  );
}

function most(numbers: readonly number[]): number {
  return numbers.reduce((largest, number) => Math.max(largest, number), 0);
}

/** A channel that had no keys gets these at most: a breakdown, and what holds it on both sides. */
const mostNew = 3;

function movesOfCurve(versions: Versions, changes: readonly KeyChange[]): KeyMove[] {
  const { node, channel } = changes[0];
  const isNew = !versions.before.curves.some((curve) => curve.node === node && curve.channel === channel);
  if (isNew && changes.length === mostNew) {
    const [first, { after }, last] = changes;
    const held = [first, last].map((change) => frameText(change.after?.frame ?? 0)).join(" and ");
    return [
      asOne(
        "breakdown",
        changes,
        null,
        `breakdown in at ${frameText(after?.frame ?? 0)}, ${valueText(after)}, held at ${held}`,
      ),
    ];
  }
  const moves = plainMoves(changes);
  const isPlain =
    !moves.some(({ kind }) => kind === "rebuilt span") &&
    moves.filter(({ kind }) => kind === "offset").length < 2;
  if (isPlain || !isRetimed(versions, changes)) return moves;
  return [asOne("slide", changes, "show the same course at other times")];
}

/** Frames by which a course that is retimed may come sooner or later. */
const mostLater = 12;
/** Part of a frame in which a course is looked through. */
const searchStep = 0.25;
/** A value is the same within this share of the range that the course has there. */
const sameShare = 0.02;

/** Whether a curve runs through the same values as before in the same order, only at other times. */
function isRetimed({ before, after }: Versions, changes: readonly KeyChange[]): boolean {
  const { node, channel } = changes[0];
  const find = (shot: Shot) => shot.curves.find((curve) => curve.node === node && curve.channel === channel);
  const [old, now] = [find(before), find(after)];
  if (old === undefined || now === undefined || old.width !== 1) return false;
  const [from, to] = framesIn(changes);
  const values: number[] = [];
  for (let at = from - mostLater; at <= to + mostLater; at += searchStep) values.push(valueAt(old, at));
  const same = sameShare * (Math.max(...values) - Math.min(...values));
  // The earliest moment not before the last one that shows the value: if any order does, this one does.
  let k = 0;
  for (let frame = Math.ceil(from); frame <= to; frame++) {
    const value = valueAt(now, frame);
    k = Math.max(k, Math.floor((frame - from) / searchStep));
    const last = Math.min(values.length - 1, latestFor(frame - from));
    while (k <= last && !shows(values, k, value, same)) k++;
    if (k > last) return false;
  }
  return true;
}

/** Index of the latest moment at which the value of a frame may be looked for. */
function latestFor(frames: number): number {
  return Math.floor((frames + 2 * mostLater) / searchStep);
}

/** Whether a course is at a value at a moment, or passes it before the next. */
function shows(values: readonly number[], k: number, value: number, same: number): boolean {
  const [a, b] = [values[k], values[k + 1] ?? values[k]];
  return value >= Math.min(a, b) - same && value <= Math.max(a, b) + same;
}

function plainMoves(changes: readonly KeyChange[]): KeyMove[] {
  const added = changes.filter(({ before }) => before === null).length;
  if (added > mostAdded) return [asOne("rebuilt span", changes, "keyed anew")];
  const moving = changes.filter(({ before, after }) => before?.frame !== after?.frame && before && after);
  if (moving.length > fewKeys) {
    const by = moving.map(({ before, after }) => (after as KeyState).frame - (before as KeyState).frame);
    const isEven = by.every((frames) => Math.abs(frames - by[0]) < 1e-6);
    const how = isEven ? `slid by ${signed(by[0])}` : "moved in time";
    if (moving.length === changes.length) return [asOne("slide", changes, how)];
    return [asOne("rebuilt span", changes, "keyed anew")];
  }
  const valued = changes.filter((change) => kindOf(change) === "key in value");
  if (valued.length > fewKeys) {
    const rest = changes.filter((change) => kindOf(change) !== "key in value" && kindOf(change) !== "handle");
    const how = readAnew(valued);
    if (how !== null) return [asOne("offset", valued, how), ...rest.map(single)];
    const sides = bySide(valued);
    if (sides.length > mostSides || !sides.every(isOffset))
      return [asOne("rebuilt span", changes, "keyed anew")];
    return [...sides.map((side) => asOne("offset", side, "offset, eased")), ...rest.map(single)];
  }
  return changes.map(single);
}

/** Digits of a document may be off by this share of what is added. */
const sameReading = 1e-4;

/** How keys are taken that all get the same on top, or are all mirrored about one angle; null where they are not. */
function readAnew(changes: readonly KeyChange[]): string | null {
  const by = changes.map(({ before, after }) => numberOf(after) - numberOf(before));
  const sums = changes.map(({ before, after }) => numberOf(after) + numberOf(before));
  const isEven = (series: readonly number[]) =>
    series.every((value) => Math.abs(value - series[0]) <= sameReading * Math.max(Math.abs(series[0]), 1));
  if (isEven(by)) return `all ${by[0] > 0 ? "raised" : "lowered"} by ${trimmed(Math.abs(by[0]), 3)}`;
  if (!changes[0].channel.startsWith("rotation.") || !isEven(sums)) return null;
  return `all mirrored about ${trimmed(sums[0] / 2, 3)}`;
}

/** A course is taken to one side, and then to the other, as a body that falls later is and then gives; no more often. */
const mostSides = 2;

/** Keys in the order of time, by the side to which they are taken; those that hardly change go with their neighbours. */
function bySide(changes: readonly KeyChange[]): KeyChange[][] {
  const by = changes.map(({ before, after }) => numberOf(after) - numberOf(before));
  const noise = 0.02 * most(by.map(Math.abs));
  const sides: KeyChange[][] = [];
  let side = 0;
  changes.forEach((change, i) => {
    const own = Math.abs(by[i]) > noise ? Math.sign(by[i]) : side;
    if (sides.length === 0 || (own !== side && side !== 0)) sides.push([]);
    sides[sides.length - 1].push(change);
    if (own !== 0) side = own;
  });
  return sides;
}

/** Whether keys are all taken to one side, with one peak: a bump that is laid over the curve. */
function isOffset(changes: readonly KeyChange[]): boolean {
  const by = changes.map(({ before, after }) => numberOf(after) - numberOf(before));
  if (by.some((value) => !Number.isFinite(value))) return false;
  const largest = most(by.map(Math.abs));
  const noise = 0.02 * largest;
  if (by.some((value) => value > noise) && by.some((value) => value < -noise)) return false;
  let falls = false;
  for (let i = 1; i < by.length; i++) {
    const rise = Math.abs(by[i]) - Math.abs(by[i - 1]);
    if (rise < -noise) falls = true;
    else if (rise > noise && falls) return false;
  }
  return true;
}

function numberOf(state: KeyState | null): number {
  return typeof state?.value === "number" ? state.value : Number.NaN;
}

/** What becomes of one key. */
function kindOf({ before, after }: KeyChange): MoveKind {
  if (before === null) return "breakdown";
  if (after === null) return "key out";
  if (before.frame !== after.frame) return "key in time";
  if (String(before.value) !== String(after.value)) return "key in value";
  return before.interpolation === after.interpolation ? "handle" : "interpolation";
}

function single(change: KeyChange): KeyMove {
  const { node, channel, before, after } = change;
  const kind = kindOf(change);
  const [was, is] = [before, after].map((state) => (state === null ? "" : frameText(state.frame)));
  const what = {
    "key in time": `key ${was} → ${is}`,
    "key in value": `key ${was}: ${valueText(before)} → ${valueText(after)}`,
    handle: `handles of key ${was}`,
    interpolation: `key ${was} ${after?.interpolation} instead of ${before?.interpolation}`,
    "key out": `key ${was} out`,
    breakdown: `breakdown in at ${is}, ${valueText(after)}`,
  }[kind as "handle"];
  const frame = (before ?? after)?.frame ?? 0;
  const frames = [Math.min(frame, after?.frame ?? frame), Math.max(frame, after?.frame ?? frame)] as const;
  return { kind, nodes: [node], channel, frames, keys: 1, text: `${node} ${channel}: ${what}` };
}

function asOne(kind: MoveKind, changes: readonly KeyChange[], how: string | null, what = ""): KeyMove {
  const { node, channel } = changes[0];
  const [from, to] = framesIn(changes);
  const text = `${node} ${channel}: ${how === null ? what : `${changes.length} keys ${how}, ${spanText(from, to)}`}`;
  return { kind, nodes: [node], channel, frames: [from, to], keys: changes.length, text };
}

function framesIn(changes: readonly KeyChange[]): [number, number] {
  const frames = changes.flatMap(({ before, after }) =>
    [before, after].flatMap((state) => state?.frame ?? []),
  );
  return [Math.min(...frames), Math.max(...frames)];
}

function spanText(from: number, to: number): string {
  return `frames ${frameText(from)} to ${frameText(to)}`;
}

function frameText(frame: number): string {
  return trimmed(frame, 3);
}

function valueText(state: KeyState | null): string {
  const value = state?.value ?? 0;
  return typeof value === "number"
    ? trimmed(value, 4)
    : `[${value.map((part) => trimmed(part, 4)).join(", ")}]`;
}

function signed(frames: number): string {
  return `${frames > 0 ? "+" : "−"}${trimmed(Math.abs(frames), 3)} frames`;
}
