import { measure, type Study } from "../../../base/study.ts";
import { type Tremble, tremblesOf } from "../../../motion/path/tremble.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { chainTopsOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { valuesIn, valuesOf } from "../../values.ts";
import { keysOfTrembles } from "./noisy-keys.ts";
import { recordingNoiseOf } from "./recording.ts";

/** With numbers in working units. */
export interface JitterFinding extends Finding {
  readonly numbers: {
    readonly node: number;
    readonly turns: number;
    readonly typical: number;
    readonly reversals: number;
    readonly others: number;
    /** The frames in which it trembles most, of which the numbers are: first and last grid index. */
    readonly at: readonly [number, number];
  };
}

const settings = {
  rate: {
    default: 14,
    unit: "Hz",
    what: "reversals per second from which motion is jitter",
    source:
      "common practice: hands tap at 5 to 7 Hz at the most, which reverses 10 to 14 times a second. The fastest drummer's wrist reached 10 Hz (Fujii and others 2009)",
    min: 1,
  },
  floor: {
    default: 0.0015,
    unit: "H",
    what: "least distance of poses from the middle between their neighbours, in body heights (root mean square)",
    source:
      "common practice: 2.5 mm of a grown person, a pixel where the figure stands 680 pixels high; finer noise is not seen",
    min: 0,
  },
  ofSpacing: {
    default: 0.1,
    unit: "share",
    what: "least such distance as a share of the spacing there; less is lost in the movement",
    source:
      "common practice: noise of a tenth of the spacing hides in the movement; captures are cleaned in their holds and slow moves first",
    min: 0,
  },
  window: {
    default: 0.75,
    unit: "s",
    what: "time over which reversals are counted; on twos and at low rates as many poses as it has at 24 frames per second",
    source: "common practice: a shorter burst is an accent, such as a shudder or a shake of the head",
    min: 0.1,
  },
} as const;

type JitterValues = { readonly [K in keyof typeof settings]: number };

/** Noise on a curve. */
export const jitter = defineCheck({
  name: "jitter",
  title: "Jitter",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  notBefore: "splining",
  what: "A part trembles: it is pushed one way and the other from frame to frame.",
  why: "Bodies are too heavy to change direction many times a second; a tremble that is not acted reads as noise.",
  computes:
    "Travel and turning in the world, pose by pose: the vector from the middle between a pose's neighbours to the pose. Where it points against that of the pose before, the motion reverses, by the root of their product. Jitter is 14 reversals a second or more over 0.75 s, or six tenths of the poses if that is less. On twos it is counted over as many poses, 18, which last twice as long. In the root mean square they are above the floor and above a tenth of the spacing. It is noted at the joint that brings most of it in by turning or shifting against its parent. It lasts as long as that joint is off the cubic through its neighbouring poses by half of what is typical. No more than four calm poses lie in between. The rate and the distance are those of the frames in which it trembles most. These are all of a run, or its densest window where the run as a whole is thinner than that. What goes through one cycle at least three times is no jitter. Its pushes come again more slowly than a hand taps. Each cycle has at most six reversals. What differs between two of them is under a fifth of their squares. Joints that follow each other without a branch are one part, and so is jitter that is back within three windows. Where a figure has keys on every frame, and more than half of its moving chains tremble (at least four), it is the noise of a recording. All of that is one polish note, but for what stands out from the rest by three spreads.",
  fix: "Smooth the keys of the channel that the note names, or take every second one out.",
  notAFault: [
    "a shiver that is acted: a waiver says so",
    "noise below the floor",
    "a cycle that comes again and again, as a wing's beat or the steps of a crab",
    "a cut by step keys from one held pose to the next",
  ],
  limits: [
    "Noise slower than 7 Hz is not told from movement.",
    "A drum roll that is faster than 7 Hz is noted: the fastest wrist that was measured reached 10 Hz.",
  ],
  sources: ["Fujii and others 2009: the fastest taps and drum strokes (abstract)"],
  since: "0.1.0",
  settings,
  find(study, node, values): readonly JitterFinding[] {
    const stretches =
      values === settingsAt(study, node)
        ? stretchesAt(study, node)
        : (noisyStretches(study, [chainTopsOf(study)[node]], values).get(node) ?? none);
    const noise = noiseOfFigure(study, figureOfNode(study, node));
    return stretches.map((stretch) => {
      const finding = findingOf(study, stretch);
      return finding.size > noise ? finding : { ...finding, isBookkeeping: true };
    });
  },
  word({ from, to, numbers, isBookkeeping }, words) {
    const { node, turns, typical, reversals, others, at } = numbers;
    const amount = turns === 1 ? words.angle(typical) : words.length(typical);
    const key = words.keys[0];
    const where = key === undefined ? "the keys there" : `the ${key.channel} keys of ${key.node}`;
    const more =
      others === 0
        ? ""
        : others === 1
          ? "; another joint of its chain trembles too"
          : `; ${others} other joints of its chain tremble too`;
    const most = at[0] === from && at[1] === to ? "" : `, most at ${words.span(...at)}`;
    return {
      message: `${words.name(node)} trembles at ${words.span(from, to)}${most}, reversing ${Math.round(reversals)} times a second by ${amount}${more}`,
      suggestion:
        isBookkeeping === true
          ? "smooth the recording as a whole, or take every second row of it"
          : `smooth ${where} over ${words.span(from, to)}, or take every second one out`,
    };
  },
});

const none: readonly never[] = [];

/** Trembles of a node with the settings as they are. */
const ownTremblesOf = measure<number, readonly Tremble[]>(
  "trembles",
  (study, node) => tremblesOf(study, node, settingsAt(study, node)),
  (a, b) => a.length === 0 && b.length === 0,
);

const settingsAt = (study: Study, node: number): JitterValues =>
  valuesOf(study, jitter, node) as JitterValues;

/** The noisy stretches that are told of at a node, by the settings as they are. */
const stretchesAt = measure<number, readonly (readonly Tremble[])[]>(
  "noisy stretches of a node",
  (study, node) => stretchesOfFigure(study, figureOfNode(study, node)).get(node) ?? none,
  (a, b) => a.length === 0 && b.length === 0,
);

/**
 * The noisy stretches of all chains that bear nodes of a figure (-1: of none), by the node at which they are told. All
 * chains at once: what hangs on a chain is looked through once, not for each of its nodes.
 */
const stretchesOfFigure = measure<number, ReadonlyMap<number, readonly (readonly Tremble[])[]>>(
  "noisy stretches",
  (study, figure) => {
    const { count, subtreeSize } = rigOf(study);
    const chainTops = chainTopsOf(study);
    const tops: number[] = [];
    for (let node = 0; node < count; ) {
      if (figureOfNode(study, node) !== figure) {
        node++;
        continue;
      }
      const top = chainTops[node];
      tops.push(top);
      node = top + subtreeSize[top];
    }
    return noisyStretches(study, tops, valuesIn(study, jitter, figure) as JitterValues);
  },
);

/** Up to which size trembles of a figure are the noise of a recording; see {@link recordingNoiseOf}. */
const noiseOfFigure = measure<number, number>(
  "noise of a recording",
  (study, figure) => {
    const stretches = [...stretchesOfFigure(study, figure).values()].flat();
    const nodes = stretches.map(([plainest]) => jointOf(plainest));
    return recordingNoiseOf(
      study,
      figure,
      nodes,
      stretches.map(([{ size }]) => size),
    );
  },
  Object.is,
);

/** Trembles of a node; remembered, unless they are asked for with other settings than those of the study. */
function tremblesIn(study: Study, node: number, values: JitterValues): readonly Tremble[] {
  const own = settingsAt(study, node);
  const isOwn = values === own || settingNames.every((name) => values[name] === own[name]);
  return isOwn ? ownTremblesOf(study, node) : tremblesOf(study, node, values);
}

const settingNames = Object.keys(settings) as (keyof typeof settings)[];

/** The joint at which a tremble belongs. */
function jointOf({ source, node }: Tremble): number {
  return source?.joint ?? node;
}

/** Jitter that is back within so many windows, about two seconds, is the same jitter: one noisy curve (our choice). */
const calmWindows = 3;

/**
 * Trembles that the joints of each chain without branches bring in, stretch by stretch, the most visible one first; by
 * the node at which a stretch is told.
 * @param tops tops of chains, of which none stands above another; what hangs on them is looked through
 */
function noisyStretches(
  study: Study,
  tops: readonly number[],
  values: JitterValues,
): ReadonlyMap<number, readonly (readonly Tremble[])[]> {
  const { subtreeSize } = rigOf(study);
  const chainTops = chainTopsOf(study);
  const byChain = new Map<number, Tremble[]>();
  for (const top of tops) {
    for (let node = top; node < top + subtreeSize[top]; node++) {
      for (const tremble of tremblesIn(study, node, values)) {
        const chain = chainTops[jointOf(tremble)];
        const list = byChain.get(chain);
        if (list === undefined) byChain.set(chain, [tremble]);
        else list.push(tremble);
      }
    }
  }
  const calm = calmWindows * values.window * gridOf(study).rate;
  const byNode = new Map<number, Tremble[][]>();
  for (const trembles of byChain.values()) {
    for (const stretch of stretchesIn(trembles, calm)) {
      const node = jointOf(stretch[0]);
      const list = byNode.get(node);
      if (list === undefined) byNode.set(node, [stretch]);
      else list.push(stretch);
    }
  }
  return byNode;
}

/** @param calm most frames between trembles of one stretch */
function stretchesIn(trembles: readonly Tremble[], calm: number): Tremble[][] {
  const stretches: Tremble[][] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const tremble of [...trembles].sort((a, b) => a.from - b.from)) {
    if (tremble.from - last <= calm + 1) stretches[stretches.length - 1].push(tremble);
    else stretches.push([tremble]);
    last = Math.max(last, tremble.to);
  }
  for (const stretch of stretches) stretch.sort((a, b) => b.size - a.size || a.node - b.node);
  return stretches;
}

function findingOf(study: Study, stretch: readonly Tremble[]): JitterFinding {
  const [plainest] = stretch;
  const { reversals, limit, typical, size, turns } = plainest;
  const joint = jointOf(plainest);
  const from = Math.min(...stretch.map((tremble) => tremble.from));
  const to = Math.max(...stretch.map((tremble) => tremble.to));
  const joints = new Set(stretch.map(jointOf));
  return {
    node: joint,
    figure: figureOfNode(study, joint),
    from,
    to,
    seenAt: [...new Set(stretch.map(({ node }) => node))],
    measured: { quantity: "reversals per second", value: reversals, unit: "Hz" },
    expected: { max: limit, unit: "Hz", source: settings.rate.source },
    excess: reversals / limit,
    size,
    numbers: {
      node: plainest.node,
      turns: turns ? 1 : 0,
      typical,
      reversals,
      others: joints.size - 1,
      at: [plainest.from, plainest.to],
    },
    fault: { kind: "keys", keys: keysOfTrembles(study, stretch) },
  };
}
