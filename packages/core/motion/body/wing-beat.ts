import { standardGravity } from "../../base/constants.ts";
import { medianOf } from "../../base/median.ts";
import { measure } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { figuresOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { beatsOf } from "./beat.ts";
import { leastBeat, propulsorsOf } from "./propulsors.ts";

/** Density of air at sea level, kg/m³ (standard atmosphere). */
const airDensity = 1.225;

/**
 * Beats per second of a bird that cruises: m^3/8 · g^1/2 · b^−23/24 · S^−1/3 · ρ^−3/8, with no further factor (Pennycuick 1996,
 * abstract: 47 species). Measured rates are 0.81 to 1.05 of it (Pennycuick 2001, abstract); take-off and landing are quicker.
 * @param mass kilograms @param span metres from tip to tip @param area square metres of both wings and the body between
 * @param density of the air, kg/m³
 */
export function cruisingBeat(mass: number, span: number, area: number, density = airDensity): number {
  return (
    mass ** (3 / 8) * standardGravity ** 0.5 * span ** (-23 / 24) * area ** (-1 / 3) * density ** (-3 / 8)
  );
}

/** What measured rates are of {@link cruisingBeat}, least and most. */
export const beatSpread = [0.81, 1.05] as const;

/**
 * Mass, kilograms, of a bird with a span: span = 1.17 m · (m / 1 kg)^0.39, and the area of its wings, 0.16 m² · (m / 1 kg)^0.72
 * (Rayner 1988, from memory): birds other than hummingbirds.
 */
export function birdOfSpan(span: number): { readonly mass: number; readonly area: number } {
  const mass = (span / 1.17) ** (1 / 0.39);
  return { mass, area: 0.16 * mass ** 0.72 };
}

/** How a figure beats its wings. */
export interface WingBeat {
  /** Beats per second, the median. */
  readonly rate: number;
  /** Metres from tip to tip, at its widest. */
  readonly span: number;
  /** What a bird of this span beats with when it cruises ({@link birdOfSpan}, {@link cruisingBeat}). */
  readonly cruising: number;
  readonly beats: number;
}

/** The beat of a figure's wings against its span; null where there is no pair of wings, or no beat. @param figure index into `figuresOf` */
export const wingBeatOf = measure("wing beat", (study, figure: number): WingBeat | null => {
  const { parts } = figuresOf(study)[figure];
  const tips = (["leftWing", "rightWing"] as const).map((part) => {
    const joints = parts.get(part);
    if (joints === undefined) return -1;
    const last = joints[joints.length - 1];
    return rigOf(study).children[last][0] ?? last;
  });
  const [left, right] = tips;
  const [propulsor] = propulsorsOf(study, figure);
  if (left < 0 || right < 0 || propulsor === undefined) return null;
  const beats = beatsOf(propulsor.series, gridOf(study).rate, leastBeat);
  if (beats.length === 0) return null;
  const a = worldOf(study, left).position;
  const b = worldOf(study, right).position;
  let span = 0;
  for (let i = 0; i < a.length / 3; i++) span = Math.max(span, distanceBetween(a, i, b, i));
  const { mass, area } = birdOfSpan(span);
  return {
    rate: medianOf(Float64Array.from(beats, ({ rate }) => rate)),
    span,
    cruising: cruisingBeat(mass, span, area),
    beats: beats.length,
  };
});
