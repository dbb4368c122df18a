import { excused } from "../../../base/excuse.ts";
import { tangents } from "../../../base/rotation-vector.ts";
import { sifted } from "../../../base/sifted.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import type { Jolted } from "../../../motion/body/jolt.ts";
import { flungShare } from "../../../motion/parts/flung.ts";
import { ownTurnsOf } from "../../../motion/path/noise.ts";
import { allSamplesOf, gathered, shownOf } from "../../../motion/path/shown.ts";
import { mayBeSpike, offPath, type Spike, spikeSight, spikesIn } from "../../../motion/path/spike.ts";
import { turnPathOf } from "../../../motion/path/turn-path.ts";
import { localMotionOf } from "../../../rig/local.ts";
import { localRotationOf, worldOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { framesFrom, type Span } from "../../../time/span.ts";
import { defineCheck } from "../../check.ts";
import { isPlanted } from "../shared/touch.ts";
import { angleFinding, type PopFinding, positionFinding } from "./finding.ts";
import { briefPosesOf, flickersIn } from "./flicker.ts";
import { offCourse } from "./off-course.ts";
import { shiftStraysOf, straysOf } from "./stray.ts";

const settings = {
  floor: {
    default: 0.003,
    unit: "H",
    what: "smallest deviation from the path that counts, in body heights",
    source:
      "common practice: about 5 mm of a grown person, three pixels where the figure fills 1,080 lines; smaller wobbles are left in",
    min: 0,
  },
  angleFloor: {
    default: 4,
    unit: "deg",
    what: "smallest deviation in angle that counts",
    source:
      "common practice: 4° move a fingertip 3 cm about its elbow (43 cm away); from there on a twitch of a joint is cleaned",
    min: 0,
  },
  spread: {
    default: 6,
    unit: "ratio",
    what: "how many times the local spread of deviations (median absolute deviation × 1.4826) a pop stands out",
    source:
      "common practice: twice the three spreads at which outlier filters usually cut (Hampel identifier), since motion has sharp accents",
    min: 1,
  },
  longest: {
    default: 7,
    unit: "frames",
    what: "for how many frames a part of a figure may be off by a stray key; what lasts longer is a move",
    source:
      "common practice: a nod or a breath that is meant takes a third of a second at least, from one pose over another and back",
    min: 0,
  },
  usual: {
    default: 6,
    unit: "ratio",
    what: "how many times it stands out from what is usual of the part in the whole shot at such a speed (60th percentile of deviations × 1.4826)",
    source:
      "common practice: as for the local spread; what is usual in the whole shot is told from more samples, at rests too",
    min: 1,
  },
} as const;

/** Share of a turn against the parent that the world has to show (our choice: the greater part of it). */
const seenShare = 0.5;

/** One or two frames in which a part leaves its path and comes back. */
export const pop = defineCheck({
  name: "pop",
  title: "Pop",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  what: "A part leaves its path for one or two frames and comes back; by one key of one curve for up to seven.",
  why: "Nothing with weight can leave its path and return within a frame: the eye takes it for a flicker, not for movement.",
  computes:
    "World positions, world orientations, and turns against a parent that moves; turns as rotation vectors. The cubic through the two frames before and after a frame predicts where the part should be (for two frames, the four around them). What counts is how far it is off across its path, and along it what exceeds half a spacing. A pop is off by more than the floor, six local spreads, and six times what is usual of the part in the whole shot. Usual is learned from samples at least half as quick, without what the pop touches. It is the third of them that is nearest in speed, or all up to twice as quick. What is more than four times as quick tells nothing, least of all of a rest. The path is bent as by a spike (out, back twice, out), which a stop or a bounce does not. It goes on behind it nearer to its way than to the pop. What is found against the parent must show by half in the world, and the part's limb must not stand. A turn below the floor of angles counts where it takes what hangs on the joint off its place by more than the other floor. It has to be more than the joint turns there from frame to frame, and its limb touches nothing. Parts of a figure are also off for three to seven frames, by one key of a curve between two others. What counts there is their turn against the parent, off the cubic through the two frames on either side. But for the trunk with the root, the neck and the head that is a minor note at most, and the key has to stand by itself. The keys beside it are of a pose: other curves of the joint have one there too, but none in between. Neither what carries the joint nor what hangs on it is off its own course by a quarter as much. Of the body's root each curve of its place counts as well, by itself. Across it they get on by at most half of that, and by a quarter per frame beside it. Nothing as long is off by half of it within a second, to the same side or the other, and comes back too.",
  fix: "Take the key out, or give it the value that its neighbours predict.",
  notAFault: [
    "a jolt by an impact of the body within a frame: upward, and no greater than the impact can give. The trunk with the root, the neck and the head are not held off their way for two frames by it",
    "a link of a loose chain that what it hangs on flings: off by at most twice what its joint is off its own path. Where it is back within a frame, it swings on by a quarter",
    "frames held by step keys: the poses that are shown are judged",
    "a pose that is shown for more than three frames, or two side by side that are, as two on twos are",
    "poses that a step key switches, as an eyelid's: where that gives at least half of the deviation. A pose of a frame or two that breaks one which a part with weight holds, and lets it stand again, is none of them",
  ],
  limits: [
    "Pops within three frames of the range's ends cannot be told from a start or a stop.",
    "A wrong pose of a limb, keyed in several curves, that lasts for three frames or more is not told from a move.",
  ],
  sources: [
    "Hampel identifier, median absolute deviation × 1.4826: robust statistics, common practice in signal processing",
  ],
  since: "0.1.0",
  settings,
  // A frame that repeats the one before leaves the path too, but it is the stumble that is seen.
  yieldsTo: ["hitch", "rotation-flip", "gimbal-lock"],
  followsCause: true,
  styles: {
    snappy: {
      times: { spread: 1.5 },
      why: "Quick poses bend a path in one frame; only what leaves it by more is a slip.",
    },
  },
  isOfMoment: true,
  find(study, node, values) {
    const shown = shownOf(study, node);
    const isWhole = shown.length === gridOf(study).count;
    const flickers = isWhole ? none : flickersOf(study, node, shown, values);
    if (shown.length < 7) return flickers;
    const spikesOf = (name: string, series: () => Float64Array, floor: number) => {
      const { spread, usual } = values;
      const candidates = sifted(study, {
        name: `pop ${name}`,
        sees: [floor, spread],
        reach: spikeSight,
        isWhole,
        series,
        count: (path) => path.length / 3,
        sift: (path, from, to, passing) => {
          for (let i = from; i <= to; i++) if (mayBeSpike(path, i, floor, spread)) passing.push(i);
        },
      });
      return candidates.length === 0 ? none : spikesIn(series(), candidates, floor, spread, usual);
    };
    const pathOf = (at: number) => gathered(worldOf(study, at).position, shown);
    const isFlung = (at: number, spike: Spike, kind: Jolted): boolean => {
      const pops = (joint: number) => popsOf(joint).map(spanOf);
      const given = flungShare(study, at, shown, spanOf(spike), kind, pathOf, pops);
      return given >= leastGiven * spike.deviation;
    };
    const known = new Map<number, readonly Spike[]>();
    const popsOf = (at: number): readonly Spike[] => {
      const before = known.get(at);
      if (before !== undefined) return before;
      const spikes = spikesOf(`${at}`, () => pathOf(at), values.floor);
      const pops = spikes.filter((spike) => !isFlung(at, spike, "position"));
      known.set(at, pops);
      return pops;
    };
    const found: PopFinding[] = [...flickers];
    const add = (finding: PopFinding | null) => {
      if (finding !== null && !found.some((other) => meets(other, finding))) found.push(finding);
    };
    for (const spike of popsOf(node)) add(positionFinding(study, node, shown, spike, settings.floor.source));
    for (const stray of isWhole ? shiftStraysOf(study, node, values) : none) {
      const { at, length } = stray;
      const off = { ...stray, deviation: offCourse(pathOf(node), at, length) };
      add(positionFinding(study, node, shown, off, settings.floor.source));
    }
    // A node without a turn of its own shows that of the joint above it, where it is told.
    const turns = localMotionOf(study, node).turn.still ? null : turnPathOf(study, node);
    if (turns === null) return found;
    const addTurn = (spike: Spike, isOwn: boolean) => {
      if (isFlung(node, spike, "orientation")) excused(node, shown[spike.at], shown[spike.at], flung);
      else add(angleFinding(study, node, shown, spike, isOwn, settings.angleFloor.source));
    };
    const turned = (name: string, series: () => Float64Array) =>
      turnSpikes(study, node, shown, values, (floor) => spikesOf(name, series, floor), series);
    for (const spike of turned("turning", () => turnPathOf(study, node) ?? turns)) addTurn(spike, false);
    const own = carriedTurnPath(study, node, shown);
    // Asked for by itself: it does not hang on where what carries the part goes.
    const ownNow = () => turnsAgainstParent(study, node, shown) ?? turns;
    for (const spike of own === null ? none : turned("turning itself", ownNow)) {
      // What a part does against what carries it to stay as it is shows little of it in the world.
      if (offPath(turns, spike.at, spike.length) >= seenShare * spike.deviation) addTurn(spike, true);
    }
    const courseNow = () => (own === null ? (turnPathOf(study, node) ?? turns) : ownNow());
    const course = `pop by a stray key ${node}${own === null ? "" : " against its parent"}`;
    for (const stray of straysOf(study, node, values, course, courseNow)) {
      if (own === null || offCourse(turns, stray.at, stray.length) >= seenShare * stray.deviation)
        add(angleFinding(study, node, shown, stray, own !== null, settings.angleFloor.source));
    }
    return found;
  },
  word(finding, words) {
    const { measured, numbers, from, to } = finding;
    const isPlace = measured.unit === "m";
    const amount = isPlace ? words.length(measured.value) : words.angle(numbers.angle);
    const time = words.frames(framesFrom(from, to));
    const key = words.keys[0];
    const where =
      key === undefined ? "the keys there" : `the ${key.channel} key at frame ${key.frame} of ${key.node}`;
    const turns = numbers.own === 1 ? "itself turns off its course by" : "turns off its course by";
    const how = isPlace ? "leaves its path by" : turns;
    return {
      message: `${words.part} ${how} ${amount} for ${time} at ${words.span(from, to)} and comes back`,
      suggestion: `take out ${where}, or move it ${amount} onto the path of its neighbours`,
    };
  },
});

/** Where one pose breaks another that is held, by its place or else by its turn. */
function flickersOf(
  study: Study,
  node: number,
  shown: Int32Array,
  { floor, angleFloor }: { readonly floor: number; readonly angleFloor: number },
): readonly PopFinding[] {
  const brief = briefPosesOf(study, node, shown);
  if (brief.length === 0) return none;
  const { position, orientation } = worldOf(study, node);
  const all = allSamplesOf(study);
  const places = flickersIn(position, shown, brief, floor);
  const turns = tangents(orientation, all);
  const turned = turns === null ? none : flickersIn(turns, shown, brief, angleFloor);
  const found: PopFinding[] = [];
  for (const finding of [
    ...places.map((spike) => positionFinding(study, node, all, spike, settings.floor.source)),
    ...turned.map((spike) => angleFinding(study, node, all, spike, false, settings.angleFloor.source)),
  ]) {
    if (finding !== null && !found.some((other) => meets(other, finding))) found.push(finding);
  }
  return found;
}

/**
 * Spikes of a turn: by more than the floor of angles, or by so much that what hangs on the joint leaves its place by
 * more than the floor of places. That little is not seen in a joint that turns further from frame to frame; and what
 * stands holds the end of a limb where it is, so that a joint above it turns as it asks.
 */
function turnSpikes(
  study: Study,
  node: number,
  shown: Int32Array,
  { floor, angleFloor }: { readonly floor: number; readonly angleFloor: number },
  spikesOf: (floor: number) => readonly Spike[],
  series: () => Float64Array,
): readonly Spike[] {
  const spikes = spikesOf(Math.min(angleFloor, floor / farReachOf(study, node)));
  if (spikes.length === 0) return none;
  const path = series();
  return spikes.flatMap((spike) => {
    if (spike.counted >= angleFloor) return [{ ...spike, limit: Math.max(spike.limit, angleFloor) }];
    const from = shown[spike.at];
    const to = shown[spike.at + spike.length - 1];
    return spike.counted < spacingAcross(path, spike) || isPlanted(study, node, from, to) ? [] : [spike];
  });
}

/** Way per sample from the one before a spike to the one behind it. */
function spacingAcross(path: Float64Array, { at, length }: Spike): number {
  const a = 3 * (at - 1);
  const b = 3 * (at + length);
  return lengthOf(path[b] - path[a], path[b + 1] - path[a + 1], path[b + 2] - path[a + 2]) / (length + 1);
}

/** Least share of a deviation that what flings a loose chain has to give to explain it (our choice: the greater part). */
const leastGiven = 0.5;
const flung = "it hangs loose on what leaves its own path there";

const none: readonly never[] = [];

/**
 * How a node turns against a parent that moves, unrolled as `turnPathOf` does; null where what its parent does is
 * not in its way.
 */
function carriedTurnPath(study: Study, node: number, shown: Int32Array): Float64Array | null {
  const parent = rigOf(study).parent[node];
  return parent < 0 || worldOf(study, parent).still ? null : turnsAgainstParent(study, node, shown);
}

function turnsAgainstParent(study: Study, node: number, shown: Int32Array): Float64Array | null {
  if (shown.length === gridOf(study).count) return ownTurnsOf(study, node);
  return tangents(localRotationOf(study, node), shown);
}

function spanOf({ at, length }: Spike): Span {
  return { from: at, to: at + length - 1 };
}

function meets(a: PopFinding, b: PopFinding): boolean {
  return a.from <= b.to + 1 && b.from <= a.to + 1;
}
