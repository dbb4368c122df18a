import { standardGravity } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { medianOf } from "../../../base/median.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { marginAt, marginTo } from "../../../motion/body/balance.ts";
import { middleOfNodes, withLoads } from "../../../motion/body/common-centre.ts";
import { type GroundDemand, groundDemandOf } from "../../../motion/body/ground-demand.ts";
import { massCentreVelocityOf } from "../../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { contactsOf, nodeContactAt } from "../../../motion/ground/contact.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { commonCentreOf, loadsOf } from "../../../motion/parts/loads.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { type Limb, limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { verdictOf } from "../../../rig/verdict.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere, type Span } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { causeOr } from "../shared/cause-or.ts";
import { type HeldHull, heldHullOf } from "../shared/held-hull.ts";
import { type Lean, type LeanValues, leansOf } from "../shared/leans.ts";
import { poseLeansOf } from "../shared/pose-leans.ts";
import { unknownSole } from "../shared/unknown-sole.ts";
import { beatingAt, holdsOnAt } from "./carriers.ts";

/** With numbers in working units. */
export interface OffBalanceFinding extends Finding {
  readonly numbers:
    | {
        readonly outside: number;
        readonly farthest: number;
        readonly foot: number;
        readonly by: number;
      }
    | { readonly friction: number; readonly change: number; readonly frames: number };
}

const settings = {
  outside: {
    default: 0.012,
    unit: "H",
    what: "how far outside its soles a body may be held",
    source:
      "Hof, Vermerris, Gjaltema 2010 (abstract): the ankles of a standing leg correct by up to 2 cm, 0.012 of a body height of 1.7 m",
    min: 0,
  },
  frames: {
    default: 8,
    unit: "frames",
    what: "for how long",
    source:
      "common practice: for a third of a second any step or stagger is off its feet; longer, and the body looks held",
    min: 2,
  },
  pose: {
    default: 6,
    unit: "frames",
    what: "for how long in a pose that step keys hold",
    source:
      "common practice: a pose that tells something is held for a quarter of a second, six frames; one on the way for less",
    min: 1,
  },
  step: {
    default: 12,
    unit: "frames",
    what: "within how many frames a step may come to catch the body",
    source:
      "Hof, Vermerris, Gjaltema 2010 (abstract): a step back into balance takes 300 ms or more, and balance is back after two; 12 frames are 500 ms",
    min: 0,
  },
  friction: {
    default: 0.82,
    unit: "ratio",
    what: "most friction that the ground can give (horizontal over vertical force)",
    source:
      "Luo & Stefanyshyn 2011 (in a review): on straight and in bends, sprinters make no use of more traction than 0.82; walking asks for about 0.2",
    min: 0,
    bound: { max: 1.1, why: "soles on floors were measured to grip with up to 1.06 (Fong, Hong, Li 2009)" },
  },
} as const;

/** A body stands, leans or pulls in a way that its feet cannot hold. */
export const offBalance = defineCheck({
  name: "off-balance",
  title: "Off balance",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  hangsOn: ["body"],
  what: "A body stands or leans where its feet cannot hold it, or pushes sideways harder than a sole can grip.",
  why: "A body whose weight is not over what carries it has to fall: held there, it hangs from a nail.",
  computes:
    "Where the figure is supported, two points are held against the convex hull of what is planted (soles, declared contacts). A foot that hovers is taken to stand where it is: `off-ground` tells of it. A human's sole is 0.152 body heights long and 0.055 broad, with a quarter of its length behind the ankle; its joints say more where they reach farther. Of other feet the joints alone are known, and 0.038 body heights more are let pass. Less than 0.152, which is the length of a human's sole, is a minor note at most. Where the mass of the body is usually farther outside of them, that way is let pass: the median while it stands, six samples a second. One is the extrapolated centre of mass x + v / √(g / height). The other is the zero-moment point x − height · a / (g + a), averaged over five frames with the force as weight. Poses of step keys are not averaged with each other. At fault are frames at which both lie outside by 0.012 body heights, for eight frames and more, or for six in one pose that step keys hold. Out of such poses the centre of mass itself will do for the extrapolated one: what is outside and goes back is drawn by nothing. No step within twelve frames brings the hull under the body, or beyond it in the direction of its fall. On two feet, a pose that step keys hold for six frames, between two more of them, is held against the fall of such a body alone, whatever step comes. Outside by 0.012 body heights, it is drawn away from its feet by g / height of that way. The zero-moment point is reckoned from its way between the middles of the three poses. It is to be in the hull, or outside by less. A foot that stands half of its length over from pose to pose of step keys has stepped. A step that lands when the body is back over its old feet catches nothing. What is left beside the new foot is a lean of its own. The note marks these and the frames beside them in which the centre of mass itself, or the zero-moment point, is still as far outside. That is a body that is drawn back with nothing to pull it. A seat carries the body while it sits, so that the feet need not. It does so from where the body has come down on it. It catches the body before that where the hips take at most twice the time of a free fall. It may be the ground, a declared surface with edges or the shape of a prop. What is between the hip joints, or the middle of a thigh, is 0.057 body heights of flesh over it. It is as near to that, and as slow, as a foot that stands. From the frame at which a chair is left, the feet alone are there. What is told is the median over the note's frames of how far outside the centre of mass or the zero-moment point is, whichever is farther. A load counts with the body's mass while it is carried: declared, 0.043 of the body's and more, and taken up or let down by 0.1 body heights. What several bodies bear weighs on each of them alike, at its own hands. Friction is the horizontal acceleration over g plus the vertical one, averaged alike, while more than half of the weight is carried.",
  fix: "Bring the hips over the feet by the centimetres that are named, put a foot under them, or let the body fall.",
  notAFault: [
    "a body with its hips in water that is declared, which carries it",
    "a step that comes in time to catch the body: under it, or beyond it in the direction in which it falls",
    "a body that leans to the side to which it takes off within twelve frames: it falls ahead into its jump",
    "a contact of a hand, a seat or a prop that is declared",
    "a hand that rests on a declared surface, as on a wall, within its edges, or on a prop that never moves: it may carry",
    "a hand that holds on to a prop that never moves, where that is no thicker than the hand is long: a rung, a rail, a post",
    "wings and other propulsors that beat, with half a beat before and after: they may carry the body",
    "a foot that hovers over the ground where it should stand: the body is judged as if it stood",
    "a body that sits on the ground, on a declared surface with edges or on a prop's shape, or falls onto it",
    "bodies that sit or squat deeply (hip joints under 0.6 of the leg's length over the ankles), but not on their way up from a known chair",
    "a pose that step keys hold beside a flight: it is one of the take-off, or of the landing",
    "a pose of step keys through which a body goes on, by 0.1 body heights and more from the pose before it to the one after it",
  ],
  limits: [
    "Of a body without legs, as a lamp or a crane, nobody has told what weighs how much, nor how broad its base is. Its notes are minor at most.",
    "Rails carry only where contacts declare them. Walls and tables also carry where surfaces declare them and a hand rests there.",
    "How far somebody who sits may lean is not judged: what the back and the arms of a seat carry is not known.",
    "Where no body map says what a foot is, a body that hangs over for most of its stand is not seen: its sole may reach so far.",
    "The turning of the body about its own centre is left out of the zero-moment point.",
    "A foot that is known by its ankle alone is taken to point as the hips face over all of its plants.",
    "These figures are about drawn or virtual bodies: they are no guidance for real stunts, lifting, sport or rehabilitation.",
  ],
  sources: [
    "Hof, Gazendam, Sinke: The condition for dynamic stability, J Biomech 2005 (extrapolated centre of mass)",
    "Hip joints are 17 cm apart, 0.1 body heights (from memory): as far as a weight shifts from foot to foot",
    "Vukobratović & Borovac: Zero-moment point, 2004; from memory",
    "Luo & Stefanyshyn 2011, Footwear Science 3:127: traction that sprinters make use of (in a review)",
    "Huston 2009 (US statures and sitting heights), Drillis & Contini 1966 (heights of joints): hip joints are 0.057 of the stature over a seat",
    "Fong, Hong, Li 2009: friction of 16 pairs of soles and floors, 0.11 to 1.06 (abstract)",
  ],
  since: "0.1.0",
  settings,
  repeats: "amount",
  find(study, figure, values) {
    if (contactsOf(study, figure).length === 0) {
      excused(-1, 0, gridOf(study).count - 1, "no foot ever stands on anything");
      return [];
    }
    const found: OffBalanceFinding[] = [];
    const footing = groundDemandOf(study, figure, loadsOf(study, figure));
    const holdsOn = holdsOnAt(study, figure);
    const beating = beatingAt(study, figure);
    for (let i = 0; i < beating.length; i++) if (holdsOn[i] === 1) beating[i] = 1;
    const hullAt = heldHullOf(study, figure);
    const held = { ...values, hullAt, beating, outside: values.outside + unknownSole(study, figure) };
    const leans = leansOf(study, figure, footing, held);
    for (const lean of poseLeansOf(study, figure, footing, held)) {
      if (!leans.some(({ shown }) => shown.from <= lean.to && shown.to >= lean.from)) leans.push(lean);
    }
    for (const lean of leans) found.push(leanFinding(study, figure, footing, lean, held));
    // What beats may push the body aside as well.
    const isPushed = propulsorsOf(study, figure).length > 0;
    for (const run of isPushed ? [] : slippingRuns(study, footing, values.friction)) {
      if (holdsOn.subarray(run.from, run.to + 1).includes(1)) continue;
      found.push(slipFinding(study, figure, footing, run, values.friction));
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    if ("friction" in numbers) {
      return {
        message: `body pushes sideways harder than its soles can grip, ${words.span(from, to)}: a friction of ${numbers.friction.toFixed(1)} is needed`,
        suggestion: `spread the change of speed (${words.speed(numbers.change)}) over ${words.frames(numbers.frames)}, or let the feet slide`,
      };
    }
    const foot = numbers.foot >= 0 ? ` of the ${words.name(numbers.foot)}` : "";
    return {
      message: `body is held ${words.length(numbers.outside)} outside its feet, ${words.span(from, to)}, and no step comes to catch it`,
      suggestion: `bring the hips ${words.length(numbers.outside)} to the side${foot}, or put a foot under them by frame ${words.frame(numbers.by)}`,
    };
  },
});

function leanFinding(
  study: Study,
  figure: number,
  footing: GroundDemand,
  { from, to, shown }: Lean,
  values: LeanValues,
): OffBalanceFinding {
  const { outside, farthest, worst } = wayOutside(study, figure, footing, shown, values.hullAt);
  const hull = values.hullAt(worst);
  const loads = loadsOf(study, figure).map(({ at, share }) => ({
    share: share.slice(from, to + 1),
    place: middleOfNodes(at, (node) => worldOf(study, node).position).slice(3 * from, 3 * to + 3),
  }));
  return {
    node: hipsOf(study, figure),
    figure,
    ...shown,
    measured: { quantity: "centre of mass or of pressure outside the feet", value: outside, unit: "m" },
    expected: { max: values.outside, unit: "m", source: settings.outside.source },
    excess: outside / values.outside,
    size: outside,
    // How long a foot is that is no human's is a guess, and what a body without legs weighs where is one as well.
    ...(isWithinAnySole(study, figure, outside) || isLegless(study, figure)
      ? { ceiling: "minor" as const }
      : {}),
    numbers: {
      outside,
      farthest,
      foot: nearestFoot(study, figure, worst),
      by: from + Math.round(values.step),
    },
    fault: causeOr(
      study,
      {
        kind: "massCentre",
        subject: figure,
        lo: from,
        hi: to,
        from,
        to,
        sees: ["lean", hull.flat(), ...loads.flatMap(({ share, place }) => [share, place])],
        strength: (body) => {
          const series = withLoads(body, loads, ({ place }) => place);
          let sum = 0;
          for (let k = 0; k < series.length; k += 3) {
            sum += Math.max(0, -marginAt(hull, series[k], series[k + 2]));
          }
          return sum;
        },
      },
      [hipsOf(study, figure)],
      from,
      to,
    ),
  };
}

/** Whether a body has no legs: what it stands on, and where its mass is, only its maker knows. */
function isLegless(study: Study, figure: number): boolean {
  const { plan } = verdictOf(study).bodies[figure];
  return plan === "no legs" || plan === "no body";
}

/** Whether a body that is no human is no farther outside the points of its feet than a human's sole is long. */
function isWithinAnySole(study: Study, figure: number, outside: number): boolean {
  return figuresOf(study)[figure].kind !== "human" && outside < lengthShare.foot * statureOf(study, figure);
}

/**
 * How far a body is outside its feet over some samples, metres: its centre of mass or the zero-moment point, whichever
 * is farther. The median, which is what it is held at, the farthest, and where that is.
 */
function wayOutside(
  study: Study,
  figure: number,
  footing: GroundDemand,
  { from, to }: Span,
  hullAt: HeldHull,
) {
  const centre = commonCentreOf(study, figure);
  const ways = floats(to - from + 1);
  let worst = from;
  for (let i = from; i <= to; i++) {
    const hull = hullAt(i);
    if (hull.length === 0) continue;
    const pressed = footing.zeroMoment(i);
    const mass = -marginAt(hull, centre[3 * i], centre[3 * i + 2]);
    const way = pressed === null ? mass : Math.max(mass, -marginTo(hull, pressed));
    ways[i - from] = way;
    if (way > ways[worst - from]) worst = i;
  }
  return { outside: medianOf(ways), farthest: ways[worst - from], worst };
}

/** The planted ankle nearest to the centre of mass at a sample; -1 where none is planted. */
function nearestFoot(study: Study, figure: number, sample: number): number {
  const k = 3 * sample;
  const body = commonCentreOf(study, figure);
  const away = ({ end }: Limb) => {
    const foot = worldOf(study, end).position;
    return lengthOf(foot[k] - body[k], foot[k + 2] - body[k + 2]);
  };
  const planted = limbsOf(study, figure).filter(
    ({ kind, end }) => kind === "leg" && nodeContactAt(study, end)[sample] === 1,
  );
  return planted.sort((a, b) => away(a) - away(b))[0]?.end ?? -1;
}

/** Runs of three frames (at 24 per second) and more in which the ground would have to grip harder than it can. */
function slippingRuns(study: Study, footing: GroundDemand, friction: number): Span[] {
  const least = Math.max(2, Math.round(gridOf(study).rate / 8));
  const { steady } = footing;
  return runsWhere(steady.length, (i) => steady[i] === 1 && footing.friction(i) > friction).filter(
    ({ from, to }) => to - from + 1 >= least,
  );
}

function slipFinding(
  study: Study,
  figure: number,
  footing: GroundDemand,
  run: Span,
  limit: number,
): OffBalanceFinding {
  const { dt } = gridOf(study);
  const velocity = massCentreVelocityOf(study, figure);
  let friction = 0;
  for (let i = run.from; i <= run.to; i++) friction = Math.max(friction, footing.friction(i));
  const [a, b] = [3 * run.from, 3 * run.to];
  const change = lengthOf(velocity[b] - velocity[a], velocity[b + 2] - velocity[a + 2]);
  const time = (run.to - run.from) * dt;
  const lo = Math.max(0, run.from - 1);
  const hi = Math.min(gridOf(study).count - 1, run.to + 1);
  return {
    node: hipsOf(study, figure),
    figure,
    from: run.from,
    to: run.to,
    measured: { quantity: "required friction", value: friction, unit: "ratio" },
    expected: { max: limit, unit: "ratio", source: settings.friction.source },
    excess: friction / limit,
    // What the feet would slide by in that time, under what they cannot hold.
    size: 0.5 * (friction - limit) * standardGravity * time * time,
    numbers: { friction, change, frames: Math.ceil(change / (limit * 0.5 * standardGravity * dt)) },
    fault: causeOr(
      study,
      {
        kind: "massCentre",
        subject: figure,
        lo,
        hi,
        from: run.from,
        to: run.to,
        sees: ["slip"],
        strength: (series) => {
          let sum = 0;
          for (let k = 3; k + 5 < series.length; k += 3) {
            const x = series[k + 3] - 2 * series[k] + series[k - 3];
            const z = series[k + 5] - 2 * series[k + 2] + series[k - 1];
            sum += lengthOf(x, z);
          }
          return sum;
        },
      },
      [hipsOf(study, figure)],
      run.from,
      run.to,
    ),
  };
}
