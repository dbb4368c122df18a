import { rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { curveName, headerOf } from "../../document/inputs.ts";
import { carrierOf, figuresOf } from "../../rig/body.ts";
import { channelSeriesOf } from "../../rig/channels.ts";
import { worldOf } from "../../rig/pose.ts";
import { radiansPerUnitOf, rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";

/** A part whose beat moves the body: a wing, a fin, a tail. */
export interface Propulsor {
  readonly node: number;
  /** Its beat, one number per sample: radians for a turn, metres for a shift, the sine of its elevation for a wing. */
  readonly series: Float64Array;
  /** Whether the document declares it; else it is a wing of the body map. */
  readonly declared: boolean;
}

/** Least swing of a beat in the units of {@link Propulsor.series}: about 6 degrees; less is a tremble (our choice). */
export const leastBeat = 0.1;

/**
 * Propulsors of a figure: those that the document declares, by their channel; else the wings of its body map, by how
 * high their ends stand in the axes of the body.
 */
export const propulsorsOf = measure("propulsors", (study, figure: number): readonly Propulsor[] => {
  const rig = rigOf(study);
  const { id, parts } = figuresOf(study)[figure];
  const found: Propulsor[] = [];
  for (const declared of headerOf(study).propulsors ?? []) {
    if (declared.figure !== id) continue;
    const factor = declared.channel.startsWith("rotation") ? radiansPerUnitOf(study) : 1;
    for (const name of declared.nodes) {
      const node = rig.indexOf.get(name);
      if (node === undefined) continue;
      const values = channelSeriesOf(study, curveName(name, declared.channel));
      // A quaternion's parts are no angle: the wing's elevation stands for them.
      const series =
        declared.channel === "rotation"
          ? elevation(study, figure, node)
          : values?.map((value) => factor * value);
      found.push({ node, series: series ?? floats(gridOf(study).count), declared: true });
    }
  }
  if (found.length > 0) return found;
  for (const part of ["leftWing", "rightWing"] as const) {
    const node = parts.get(part)?.[0];
    if (node !== undefined) found.push({ node, series: elevation(study, figure, node), declared: false });
  }
  return found;
});

/** Share of a beat's swing that has to go up and down for it to lift: its plane stands at 30° to the level (our choice). */
const liftShare = 0.5;

/**
 * Whether the beat of a propulsor goes up and down in the axes of its figure's root, so that it carries. One that goes to
 * and fro across, as the tail of most fish, pushes the body on. True where the propulsor has no end that shows it.
 */
export function beatsUpAndDown(study: Study, figure: number, { node }: Propulsor): boolean {
  const { arms, up } = armsOf(study, figure, node);
  const count = arms.length / 3;
  let upright = 0;
  let whole = 0;
  const mean = [0, 0, 0];
  for (let k = 0; k < arms.length; k++) mean[k % 3] += arms[k] / count;
  for (let k = 0; k < arms.length; k += 3) {
    const x = arms[k] - mean[0];
    const y = arms[k + 1] - mean[1];
    const z = arms[k + 2] - mean[2];
    upright += (x * up[0] + y * up[1] + z * up[2]) ** 2;
    whole += x * x + y * y + z * z;
  }
  return upright >= liftShare * liftShare * whole;
}

/**
 * Sine of the angle at which the end of a wing stands over its root, in the axes of the figure's root, whatever channel
 * drives it.
 * @returns a number per sample
 */
export const elevationOf = (study: Study, figure: number, { node }: Propulsor): Float64Array =>
  elevation(study, figure, node);

function elevation(study: Study, figure: number, node: number): Float64Array {
  const { arms, up } = armsOf(study, figure, node);
  const series = floats(arms.length / 3);
  for (let i = 0, k = 0; i < series.length; i++, k += 3)
    series[i] = arms[k] * up[0] + arms[k + 1] * up[1] + arms[k + 2] * up[2];
  return series;
}

/** Directions from a node to the end of its chain, 3 numbers per sample, and up, in the axes of the figure's root. */
function armsOf(study: Study, figure: number, node: number): { arms: Float64Array; up: Float64Array } {
  const { count } = gridOf(study);
  const rig = rigOf(study);
  let end = node;
  while (rig.children[end].length > 0) end = rig.children[end][0];
  const body = worldOf(study, carrierOf(figuresOf(study)[figure])).orientation;
  const from = worldOf(study, node).position;
  const to = worldOf(study, end).position;
  const arms = floats(3 * count);
  const inverse = new Float64Array(4);
  const arm = new Float64Array(3);
  // The body's own up axis is taken once, from the first sample, and carried along.
  const up = Float64Array.of(0, 1, 0);
  turnBack(body, 0, inverse);
  rotateVector(inverse, 0, up, 0, up, 0);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < 3; k++) arm[k] = to[3 * i + k] - from[3 * i + k];
    const length = lengthOf(arm[0], arm[1], arm[2]);
    turnBack(body, 4 * i, inverse);
    rotateVector(inverse, 0, arm, 0, arm, 0);
    for (let k = 0; k < 3; k++) arms[3 * i + k] = length > 0 ? arm[k] / length : 0;
  }
  return { arms, up };
}

function turnBack(orientation: Float64Array, at: number, out: Float64Array): void {
  for (let k = 0; k < 3; k++) out[k] = -orientation[at + k];
  out[3] = orientation[at + 3];
}
