import type { Dimension } from "../base/quantity.ts";
import { angleBetween } from "../base/quaternion.ts";
import { floats } from "../base/room.ts";
import { measure, type Study } from "../base/study.ts";
import { lengthOf } from "../base/vector.ts";
import { sampleCurve } from "../curve/evaluate.ts";
import { curveName, curveOf } from "../document/inputs.ts";
import type { Channel } from "../document/model.ts";
import { airborneAt } from "../motion/body/flight.ts";
import { nodeContactAt } from "../motion/ground/contact.ts";
import { groundOf } from "../motion/ground/foot.ts";
import { heightsOver } from "../motion/ground/surface.ts";
import { heldOf } from "../motion/path/held.ts";
import { accelerationOf, angularSpeedOf, spacingOf, speedOf } from "../motion/path/spacing.ts";
import { figureOfNode, figuresOf } from "../rig/body.ts";
import { worldOf } from "../rig/pose.ts";
import { radiansPerUnitOf, rigOf } from "../rig/rig.ts";
import { metresPerUnitOf } from "../rig/stature.ts";
import { gridOf } from "../time/grid.ts";
import {
  metres,
  metresPerSecond,
  metresPerSecondSquared,
  plainNumber,
  type Result,
  radians,
  radiansPerSecond,
} from "./dimension.ts";
import { heldPropOf, touchingOf } from "./held-prop.ts";

/** A value at a judged frame, by its index in the grid; 1 or 0 for yes or no. */
export type At = (index: number) => number;

/** A named series that expressions may use. */
export interface Series {
  /** How it is written, for errors and docs. */
  readonly written: string;
  readonly what: string;
  /** How many nodes it takes, at least and at most; a channel comes after them. */
  readonly nodes: readonly [least: number, most: number];
  readonly kind: Result | "by channel";
  /**
   * The series in a shot.
   * @param nodes rig indices
   * @returns null where the shot has nothing of this kind
   */
  bind(study: Study, nodes: readonly number[], channel: Channel | undefined): At | null;
}

/** All series, by the names that expressions use. Positions are in the world, in metres, y up. */
export const series = {
  x: position(0, "position to the side"),
  y: position(1, "position upward"),
  z: position(2, "position to the front"),
  height: {
    written: "height(node)",
    what: "height of a node over the ground",
    nodes: [1, 1],
    kind: metres,
    bind: (study, [node]) => reading(heightOverGroundOf(study, node)),
  },
  speed: ofNode("speed", "speed of a node", metresPerSecond, speedOf),
  spacing: ofNode("spacing", "way of a node from the frame before", metres, spacingOf),
  acceleration: {
    written: "acceleration(node)",
    what: "acceleration of a node, whichever way it points",
    nodes: [1, 1],
    kind: metresPerSecondSquared,
    bind(study, [node]) {
      const a = accelerationOf(study, node);
      return (i) => lengthOf(a[3 * i], a[3 * i + 1], a[3 * i + 2]);
    },
  },
  angularSpeed: ofNode(
    "angularSpeed",
    "turning speed of a node in the world",
    radiansPerSecond,
    angularSpeedOf,
  ),
  distance: {
    written: "distance(node, node)",
    what: "distance between two nodes",
    nodes: [2, 2],
    kind: metres,
    bind(study, [first, second]) {
      const a = worldOf(study, first).position;
      const b = worldOf(study, second).position;
      return (i) => lengthOf(a[3 * i] - b[3 * i], a[3 * i + 1] - b[3 * i + 1], a[3 * i + 2] - b[3 * i + 2]);
    },
  },
  angle: {
    written: "angle(node, node)",
    what: "angle by which one node is turned against another, 0 to 180 degrees",
    nodes: [2, 2],
    kind: radians,
    bind(study, [first, second]) {
      const a = worldOf(study, first).orientation;
      const b = worldOf(study, second).orientation;
      return (i) => angleBetween(a, 4 * i, b, 4 * i);
    },
  },
  channel: {
    written: 'channel(node, "rotation.z")',
    what: "value of a keyed channel",
    nodes: [1, 1],
    kind: "by channel",
    bind(study, [node], channel) {
      const values = channelValuesOf(study, curveName(rigOf(study).ids[node], channel as Channel));
      return values === null ? null : reading(values);
    },
  },
  planted: ofNode(
    "planted",
    "whether a node stands in a contact, declared or inferred",
    "truth",
    nodeContactAt,
  ),
  contact: {
    written: "contact(node) or contact(node, node)",
    what: "whether a node stands in a contact; of two nodes, whether a contact between them is declared",
    nodes: [1, 2],
    kind: "truth",
    bind: (study, [first, second]) =>
      reading(second === undefined ? nodeContactAt(study, first) : touchingOf(study, `${first} ${second}`)),
  },
  held: ofNode(
    "held",
    "whether a prop is held: it hangs under a hand, a hand holds it, declared or found, or it has a declared contact with a body",
    "truth",
    heldPropOf,
  ),
  airborne: {
    written: "airborne(node) or airborne()",
    what: "whether the figure that a node belongs to is in the air; without a node, the first figure",
    nodes: [0, 1],
    kind: "truth",
    bind(study, [node]) {
      const figure = node === undefined ? 0 : figureOfNode(study, node);
      return figure < 0 || figure >= figuresOf(study).length ? null : reading(airborneAt(study, figure));
    },
  },
  repeated: ofNode(
    "repeated",
    "whether the frame repeats the one before, held on a step key",
    "truth",
    heldOf,
  ),
} as const satisfies Readonly<Record<string, Series>>;

export type SeriesName = keyof typeof series;

/** A series by its name; safe for names such as "constructor". */
export function seriesNamed(name: string): Series | undefined {
  return Object.hasOwn(series, name) ? series[name as SeriesName] : undefined;
}

/** What a channel's values are. */
export function quantityOfChannel(channel: Channel): Dimension {
  return channel.startsWith("translation") ? metres : channel.startsWith("rotation") ? radians : plainNumber;
}

function position(axis: 0 | 1 | 2, what: string): Series {
  const letter = "xyz"[axis];
  return {
    written: `${letter}(node)`,
    what,
    nodes: [1, 1],
    kind: metres,
    bind(study, [node]) {
      const { position } = worldOf(study, node);
      return (i) => position[3 * i + axis];
    },
  };
}

function ofNode(
  name: string,
  what: string,
  kind: Result,
  values: (study: Study, node: number) => Float64Array | Uint8Array,
): Series {
  return {
    written: `${name}(node)`,
    what,
    nodes: [1, 1],
    kind,
    bind: (study, [node]) => reading(values(study, node)),
  };
}

function reading(values: Float64Array | Uint8Array): At {
  return (i) => values[i];
}

const heightOverGroundOf = measure(
  "height over the ground",
  (study, node: number): Float64Array => heightsOver(groundOf(study), worldOf(study, node).position),
);

/** Values of a curve at the judged frames, in metres, radians or as factors; null where there is no such curve. */
const channelValuesOf = measure("channel values", (study, name: string): Float64Array | null => {
  const curve = curveOf(study, name);
  if (curve === null || curve.width !== 1 || curve.frames.length === 0) return null;
  const { frames, count } = gridOf(study);
  const values = floats(count);
  sampleCurve(curve, frames, values);
  const factor = curve.channel.startsWith("translation")
    ? metresPerUnitOf(study)
    : curve.channel.startsWith("rotation")
      ? radiansPerUnitOf(study)
      : 1;
  for (let i = 0; i < count; i++) values[i] *= factor;
  return values;
});
