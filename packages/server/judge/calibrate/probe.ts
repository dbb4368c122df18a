import {
  type Check,
  type Finding,
  gridOf,
  type Study,
  subjectCount,
  type Unit,
  valuesOf,
} from "@keyside/core";
import { kindOf, settingsOf, units } from "@keyside/core/internal";

/** Which way a setting is turned to make its check stricter: a most that is lowered, or a least that is raised. */
export const sides = ["max", "min"] as const;
export type Side = (typeof sides)[number];

/**
 * How the value of a setting at which a finding goes away follows from the finding: it is what was measured itself, or
 * it stands to the setting as what was measured stands to its limit.
 */
export const rules = ["measured", "proportional"] as const;
export type Rule = (typeof rules)[number];

/** One way in which a setting may be a threshold. */
export interface Way {
  readonly side: Side;
  readonly rule: Rule;
}
export const ways: readonly Way[] = sides.flatMap((side) => rules.map((rule) => ({ side, rule })));

/** By what a setting is turned to its strictest, before its own bounds. */
const opening = { max: 1e-3, min: 20 } as const;
/** How near to the value at which a finding goes away it is tried whether it does. */
const nearness = 0.01;
/** At most so many findings of a shot are tried for each way, the worst ones. */
const mostTried = 6;
/** Halvings of the range, of ratios, in which a finding goes away: to about a third of a percent. */
const halvings = 12;
/** Numbers that differ by less are the same but for rounding. */
const rounding = 1e-6;

/** What a shot says of a setting, in one way. */
export interface Probed {
  /** The value, in the setting's own unit, from which on the shot has no such finding; null where it never has. */
  readonly worst: number | null;
  readonly findings: number;
  /** For how many findings the rule was tried, and for how many it held. */
  readonly tried: number;
  readonly held: number;
}

/** A finding of the check with one setting at its strictest. */
interface Opened {
  readonly finding: Finding;
  /** The check with another value of the setting, in the setting's own unit. */
  readonly rerun: (value: number) => readonly Finding[];
  readonly perUnit: number;
}

/**
 * Turns one setting of a check to its strictest, runs the check itself, works out from each finding at which value of
 * the setting it should go away, and runs the check around that value to see whether it does. There is no other
 * mathematics than the check's.
 */
export function probe(study: Study, check: Check, name: string): ReadonlyMap<Way, Probed> {
  const results = new Map<Way, Probed>();
  const setting = check.settings[name];
  if (setting === undefined || gridOf(study).count < 2) return results;
  const chosen = settingsOf(study).checks.get(check.name)?.values[name]?.value ?? setting.default;
  if (chosen === 0) return results;
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = setting;
  for (const side of sides) {
    const opened = Math.min(max, Math.max(min, chosen * opening[side]));
    // Nothing is stricter than where it stands already.
    if (side === "max" ? opened >= chosen : opened <= chosen) continue;
    const found = findingsAt(study, check, name, chosen, opened);
    const kind = kindOf(setting.unit);
    for (const way of ways) {
      if (way.side !== side) continue;
      // What is measured in another kind of unit is compared with another setting.
      const own =
        way.rule === "measured" ? found.filter((one) => kindOf(one.finding.measured.unit) === kind) : found;
      results.set(way, probeWay(own, way, opened, [min, max]));
    }
  }
  return results;
}

function findingsAt(study: Study, check: Check, name: string, chosen: number, opened: number): Opened[] {
  const found: Opened[] = [];
  const subjects = subjectCount(study, check);
  for (let subject = 0; subject < subjects; subject++) {
    const values = valuesOf(study, check, subject);
    const perUnit = (values[name] as number) / chosen;
    const rerun = (value: number) =>
      check.find(study, subject, { ...values, [name]: value * perUnit } as never);
    for (const finding of rerun(opened)) found.push({ finding, rerun, perUnit });
  }
  return found;
}

function probeWay(
  found: readonly Opened[],
  { side, rule }: Way,
  opened: number,
  [min, max]: readonly [number, number],
): Probed {
  const isLooser = (a: number, b: number) => (side === "max" ? a > b : a < b);
  const candidates = found
    .flatMap((one) => {
      const value = candidateOf(one, side, rule, opened);
      return value === null || value < min || value > max ? [] : [{ ...one, value }];
    })
    .sort((a, b) => (isLooser(a.value, b.value) ? -1 : 1));
  let worst: number | null = null;
  let [tried, held] = [0, 0];
  for (const candidate of candidates) {
    // It goes away at its own value at the latest.
    if (tried >= mostTried || (worst !== null && !isLooser(candidate.value, worst))) break;
    tried++;
    const value = goneAt(candidate, side, opened);
    if (value === null) continue;
    held++;
    if (worst === null || isLooser(value, worst)) worst = value;
  }
  return { worst, findings: candidates.length, tried, held };
}

/** The value at which a finding should go away, in the setting's own unit; null where the rule gives none. */
function candidateOf({ finding, perUnit }: Opened, side: Side, rule: Rule, opened: number): number | null {
  const { measured } = finding;
  let value: number;
  if (rule === "measured") value = inWorking(measured.value, measured.unit) / perUnit;
  else {
    // A limit may rise with the setting or fall with it; what is past its limit needs a looser setting either way.
    const ratio = measured.value / (limitOf(finding) ?? Number.NaN);
    value = opened * (side === "max" ? Math.max(ratio, 1 / ratio) : Math.min(ratio, 1 / ratio));
  }
  return Number.isFinite(value) && value > 0 ? value : null;
}

/**
 * The value from which on the finding is not there: the candidate, where it is there just on its stricter side and not
 * on its looser one. Where its limit is the setting itself, something else may let it pass earlier: then that value is
 * looked for. Null where the finding does not follow the setting.
 */
function goneAt(
  { finding, rerun, perUnit, value }: Opened & { readonly value: number },
  side: Side,
  opened: number,
): number | null {
  const [stricter, looser] = side === "max" ? [1 - nearness, 1 + nearness] : [1 + nearness, 1 - nearness];
  const isSame = (other: Finding) =>
    meets(finding, other) && near(other.measured.value, finding.measured.value);
  if (rerun(value * stricter).some(isSame) && !rerun(value * looser).some(isSame)) return value;
  const limit = limitOf(finding);
  const isItsLimit = limit !== null && near(inWorking(limit, finding.expected.unit), opened * perUnit);
  const isThere = (at: number) => rerun(at).some((other) => meets(finding, other));
  if (!isItsLimit || isThere(value * looser)) return null;
  let [there, gone] = [opened, value * looser];
  for (let i = 0; i < halvings; i++) {
    const middle = Math.sqrt(there * gone);
    if (isThere(middle)) there = middle;
    else gone = middle;
  }
  return gone;
}

/** The limit that a finding is past. */
function limitOf({ measured, expected }: Finding): number | null {
  const { min, max } = expected;
  return max !== undefined && (min === undefined || measured.value > max) ? max : (min ?? null);
}

function near(a: number, b: number): boolean {
  return Math.abs(a - b) <= rounding * Math.max(Math.abs(a), Math.abs(b));
}

/** Checks compute in metres, radians and seconds. */
function inWorking(value: number, unit: Unit): number {
  return value * units[unit].factor;
}

function meets(a: Finding, b: Finding): boolean {
  return a.node === b.node && a.measured.quantity === b.measured.quantity && a.from <= b.to && b.from <= a.to;
}
