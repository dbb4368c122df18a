import { figuresOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { chainOf, isAbove, rigOf, subtreeOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { metresPerUnitOfChannel } from "../keying/precision.ts";
import { type Track, trackOf, tracksOf } from "../keying/track.ts";

/** A channel belongs to the cause from this share of the fault on. */
const leastShare = 0.1;
/** What a channel moves over the frames of a fault for it to take part, metres. */
const leastMove = 2e-4;

/**
 * The channels that may have to change for a note to go, fewest first: the first key's channel, all that the note
 * names, all of the nodes that it names, those of the part's own limb, those of the chain above it. Channels
 * that do not move between the frames are left out.
 * @param from first and last frame (of the document) of what is to change
 */
export function causeSets(subject: Subject, from: number, to: number): Track[][] {
  const { study, node, seenAt, keys } = subject;
  const rig = rigOf(study);
  const named = keys.flatMap((key) => {
    const index = rig.indexOf.get(key.node);
    return index === undefined ? [] : [{ track: trackOf(study, index, key.channel), share: key.share ?? 1 }];
  });
  const strong = named.filter(({ share }) => share >= leastShare).map(({ track }) => track);
  const nodes = [...new Set(named.map(({ track }) => track.node))];
  const driven = (index: number) => tracksOf(study, index);
  const ends = seenAt.length > 0 ? seenAt : node >= 0 ? [node] : [];
  const sets: Track[][] = [named.slice(0, 1).map(({ track }) => track), strong];
  // Where many parts show it at once, their limbs belong together.
  const limbs = ends.flatMap((end) => chainOf(rig, end).slice(-3));
  if (ends.length > 2) sets.push([...nodes, ...limbs].flatMap(driven));
  sets.push(nodes.flatMap(driven));
  // What stops, or leaves its course, in one joint does so in those that hang on it, where one key holds them all.
  for (const end of ends.slice(0, 2)) sets.push(alongLimb(subject, end).flatMap(driven));
  for (const end of ends.slice(0, 2)) {
    const chain = chainOf(rig, end);
    for (const levels of [2, 3, 4, chain.length]) sets.push(chain.slice(-levels).flatMap(driven));
  }
  if (ends.length > 1) sets.push([...nodes, ...limbs].flatMap(driven));
  if (ends.length > 2) sets.push([...nodes.flatMap(driven), ...wholeFigure(subject, from, to)]);
  return distinct(sets.map((set) => set.filter((track) => moves(subject, track, from, to))));
}

/** The joints of the limb that a part belongs to, down to its end; of other parts, what hangs on them in one line. */
function alongLimb({ study, figure }: Subject, part: number): number[] {
  const rig = rigOf(study);
  const limbs = figure < 0 ? [] : limbsOf(study, figure);
  const limb = limbs.find((one) => isAbove(rig, one.root, part) && isAbove(rig, part, one.end));
  if (limb !== undefined) return [limb.root, limb.middle, limb.end];
  const below = subtreeOf(rig, part);
  // Where each joint has one below it at most there is no fork.
  const above = new Set(below.slice(1).map((node) => rig.parent[node]));
  return above.size === below.length - 1 ? below : [];
}

/** Every channel of a note's figure, or of the hierarchy that its node belongs to, that moves between two frames. */
export function wholeFigure(subject: Subject, from: number, to: number): Track[] {
  const { study, figure, node } = subject;
  const rig = rigOf(study);
  const nodes =
    figure >= 0 ? figuresOf(study)[figure].nodes : node < 0 ? [] : subtreeOf(rig, chainOf(rig, node)[0]);
  return nodes.flatMap((index) => tracksOf(study, index)).filter((track) => moves(subject, track, from, to));
}

/** Whether a channel changes visibly between two frames. */
export function moves({ study }: Subject, track: Track, from: number, to: number): boolean {
  const least = leastMove / metresPerUnitOfChannel(study, track.node, track.channel);
  const first = new Float64Array(4);
  const here = new Float64Array(4);
  const { step } = gridOf(study);
  track.read(from, first);
  for (let frame = from + step; frame <= to + 1e-6; frame += step) {
    track.read(frame, here);
    for (let k = 0; k < track.width; k++) if (Math.abs(here[k] - first[k]) > least) return true;
  }
  return false;
}

function distinct(sets: readonly Track[][]): Track[][] {
  const seen = new Set<string>();
  return sets
    .filter((set) => {
      const name = [...new Set(set.map(({ id, channel }) => `${id} ${channel}`))].sort().join("\n");
      if (name === "" || seen.has(name)) return false;
      seen.add(name);
      return true;
    })
    .map((set) => [...new Map(set.map((track) => [`${track.id} ${track.channel}`, track])).values()]);
}
