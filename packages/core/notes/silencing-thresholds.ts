import type { Unit } from "../base/quantity.ts";
import type { Study } from "../base/study.ts";
import type { Check, Finding } from "../faults/check.ts";
import { valuesOf } from "../faults/values.ts";
import { settingsOf } from "../settings/study.ts";

/** A setting, the value at which its check would speak, and the value that is in force, both in the setting's unit. */
export interface Turned {
  readonly name: string;
  readonly value: number;
  readonly now: number;
  readonly unit: Unit;
}

/** How far a setting is turned, either way, from its value; farther out it would be another check. */
const factors = [0.5, 0.2, 0.05, 2, 5, 20] as const;
/** Halvings of the way from the value in force to one that lets the check speak: to about a hundredth of that way. */
const halvings = 7;
/** At most so many settings, or pairs of them, are told, the smallest turn first. */
const mostTold = 4;

/**
 * The settings that keep a check silent, found by trial: each is turned both ways until the check speaks, and then back
 * as far as it still does. Where none alone does it, pairs are tried.
 * @param subjects of the check (see `Scope`) that are asked
 * @param isMeant whether a finding is the one that is missed
 */
export function thresholdsThatSilence(
  study: Study,
  check: Check,
  subjects: readonly number[],
  isMeant: (finding: Finding) => boolean,
): readonly (readonly Turned[])[] {
  const names = Object.keys(check.settings);
  /** Whether the check speaks with some of its settings multiplied. */
  const speaks = (turns: ReadonlyMap<string, number>) =>
    subjects.some((subject) => {
      const values = { ...valuesOf(study, check, subject) };
      for (const [name, factor] of turns) values[name] *= factor;
      return found(study, check, subject, values).some(isMeant);
    });
  const single: Map<string, number>[] = [];
  for (const name of names) {
    const factor = factors.find((one) => isAllowed(check, name, one) && speaks(new Map([[name, one]])));
    if (factor !== undefined) single.push(new Map([[name, factor]]));
  }
  const sets = single.length > 0 ? single : pairsOf(check).filter(speaks);
  return sets
    .map((turns) => leastTurned(turns, speaks))
    .sort((a, b) => sizeOf(a) - sizeOf(b))
    .slice(0, mostTold)
    .map((turns) => [...turns].map(([name, factor]) => turned(study, check, name, factor)));
}

/** A check asked with values that nobody chose may fail: it says nothing then. */
function found(study: Study, check: Check, subject: number, values: Record<string, number>) {
  try {
    return check.find(study, subject, values as never);
  } catch {
    return [];
  }
}

/** Whether a setting may be turned so far: a configuration cannot choose what lies outside its bounds either. */
function isAllowed(check: Check, name: string, factor: number): boolean {
  const {
    default: value,
    min = Number.NEGATIVE_INFINITY,
    max = Number.POSITIVE_INFINITY,
  } = check.settings[name];
  return factor * value >= min && factor * value <= max;
}

function pairsOf(check: Check): Map<string, number>[] {
  const names = Object.keys(check.settings);
  const extremes = [0.05, 20] as const;
  const pairs: Map<string, number>[] = [];
  names.forEach((first, i) => {
    for (const second of names.slice(i + 1))
      for (const a of extremes)
        for (const b of extremes)
          if (isAllowed(check, first, a) && isAllowed(check, second, b))
            pairs.push(
              new Map([
                [first, a],
                [second, b],
              ]),
            );
  });
  return pairs;
}

/** Turns each setting back toward its own value as far as the check still speaks. */
function leastTurned(
  turns: ReadonlyMap<string, number>,
  speaks: (turns: ReadonlyMap<string, number>) => boolean,
): Map<string, number> {
  const least = new Map(turns);
  for (const [name, factor] of turns) {
    let silent = 1;
    let speaking = factor;
    for (let k = 0; k < halvings; k++) {
      const middle = Math.sqrt(silent * speaking);
      if (speaks(new Map(least).set(name, middle))) speaking = middle;
      else silent = middle;
    }
    least.set(name, speaking);
  }
  return least;
}

function sizeOf(turns: ReadonlyMap<string, number>): number {
  let size = 0;
  for (const factor of turns.values()) size += Math.abs(Math.log(factor));
  return size;
}

function turned(study: Study, check: Check, name: string, factor: number): Turned {
  const setting = check.settings[name];
  const { value, unit } = settingsOf(study).checks.get(check.name)?.values[name] ?? {
    value: setting.default,
    unit: setting.unit,
  };
  return { name, value: value * factor, now: value, unit };
}
