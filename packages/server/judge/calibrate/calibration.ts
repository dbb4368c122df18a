import type { Check, ChosenValue, Setting, Study } from "@keyside/core";
import { settingsOf } from "@keyside/core/internal";
import { type Guard, unguarded } from "../../base/guard.ts";
import { type Probed, probe, type Way, ways } from "./probe.ts";

/** Where the values of approved shots lie, one value per shot: its worst. */
export interface Distribution {
  /** Shots that say something of the setting, and findings in them. */
  readonly shots: number;
  readonly findings: number;
  readonly least: number;
  readonly median: number;
  readonly most: number;
}

/** What came out for one setting. */
export interface Calibrated {
  readonly check: string;
  readonly setting: string;
  readonly unit: Setting["unit"];
  readonly before: number;
  /** Why there is no threshold; null where there is one. */
  readonly reason: string | null;
  readonly threshold: number | null;
  /** Whether the threshold is the most or the least that is let through. */
  readonly side: "max" | "min" | null;
  readonly distribution: Distribution | null;
  /** How many of the shots that say something have no note by the threshold. */
  readonly passing: number;
  readonly warnings: readonly string[];
  /** Whether there are too few shots for the percentile that is asked for. */
  readonly isThin: boolean;
}

export interface CalibrateChoice {
  /** Percentage of the approved shots that are to stay without a note of the check. */
  readonly percentile: number;
  readonly beyondBounds: boolean;
}

/** The rule has to hold for so many of the findings for which it was tried. */
const heldShare = 0.8;

/** A threshold that is this many times looser than the one before is worth a look. */
const muchLooser = 5;

/** Digits of a threshold; more would be noise. */
const digits = 3;

/** Collects what approved shots say of the settings of checks: a number per shot and setting, never shots. */
export class Calibration {
  private readonly checks: readonly Check[];
  private readonly rows = new Map<string, Map<Way, Row>>();
  private readonly failed = new Map<string, string>();

  constructor(checks: readonly Check[]) {
    this.checks = checks;
  }

  /** Takes a shot in. */
  add(study: Study, guard: Guard = unguarded): void {
    const found = guard(() => this.probesOf(study));
    for (const { key, way, probed } of found.rows) this.rowOf(key, way).add(probed);
    for (const [key, message] of found.failed) this.failed.set(key, message);
  }

  /** What a shot adds. Nothing is changed by it: it may be broken off. */
  private probesOf(study: Study): {
    readonly rows: readonly { readonly key: string; readonly way: Way; readonly probed: Probed }[];
    readonly failed: ReadonlyMap<string, string>;
  } {
    const rows: { key: string; way: Way; probed: Probed }[] = [];
    const failed = new Map<string, string>();
    const inForce = settingsOf(study).checks;
    for (const check of this.checks) {
      if (inForce.get(check.name)?.on === false) continue;
      for (const name of Object.keys(check.settings)) {
        const key = `${check.name} ${name}`;
        if (this.failed.has(key)) continue;
        try {
          for (const [way, probed] of probe(study, check, name)) rows.push({ key, way, probed });
        } catch (error) {
          failed.set(key, (error instanceof Error ? error.message : String(error)).split("\n")[0] as string);
        }
      }
    }
    return { rows, failed };
  }

  /**
   * A threshold for every setting that is one.
   * @param inForce what is in force for a setting now, in its own unit
   */
  results(choice: CalibrateChoice, inForce: (check: Check, setting: string) => ChosenValue): Calibrated[] {
    return this.checks.flatMap((check) =>
      Object.entries(check.settings).map(([name, setting]) =>
        this.result(check, name, setting, choice, inForce(check, name)),
      ),
    );
  }

  private rowOf(key: string, way: Way): Row {
    let rows = this.rows.get(key);
    if (rows === undefined) {
      rows = new Map();
      this.rows.set(key, rows);
    }
    let row = rows.get(way);
    if (row === undefined) {
      row = new Row();
      rows.set(way, row);
    }
    return row;
  }

  private result(
    check: Check,
    name: string,
    setting: Setting,
    { percentile, beyondBounds }: CalibrateChoice,
    { value: before, unit }: ChosenValue,
  ): Calibrated {
    const key = `${check.name} ${name}`;
    const none = (reason: string): Calibrated => ({
      check: check.name,
      setting: name,
      unit,
      before,
      reason,
      threshold: null,
      side: null,
      distribution: null,
      passing: 0,
      warnings: [],
      isThin: false,
    });
    const failure = this.failed.get(key);
    if (failure !== undefined) return none(`the check cannot be run with it at its strictest (${failure})`);
    if (before === 0) return none("it is 0, which cannot be turned stricter or looser by a factor");
    const rows = this.rows.get(key);
    const known = ways.flatMap((way) => {
      const row = rows?.get(way);
      return row === undefined || row.worst.length === 0 ? [] : [{ way, row }];
    });
    const right = known.find(({ row }) => row.held / row.tried >= heldShare);
    if (right === undefined) {
      const isTried = ways.some((way) => (rows?.get(way)?.tried ?? 0) > 0);
      return none(
        isTried
          ? "a note of the check does not come and go with it alone in these shots"
          : "nothing that it could limit was measured in these shots",
      );
    }
    const { way, row } = right;
    const sorted = [...row.worst].sort((a, b) => a - b);
    const raw = way.side === "max" ? rank(sorted, percentile) : rank(sorted, 100 - percentile, true);
    const warnings: string[] = [];
    const needed = shotsNeeded(percentile);
    const isThin = sorted.length < needed;
    if (isThin) {
      warnings.push(`${sorted.length} of the ${needed} shots that the ${percentile}th percentile needs`);
    }
    const rounded = outward(raw, way.side);
    const factor = way.side === "max" ? rounded / before : before / rounded;
    if (factor > muchLooser) {
      warnings.push(
        `more than ${muchLooser} times looser than it was: look at these shots, or the check says little`,
      );
    }
    const threshold = beyondBounds ? rounded : bounded(rounded, way.side, setting, unit, warnings);
    const taken = clamped(threshold, setting, unit);
    const passes = (worst: number) => (way.side === "max" ? worst <= taken : worst >= taken);
    return {
      ...none(""),
      reason: null,
      threshold: taken,
      passing: sorted.filter(passes).length,
      side: way.side,
      distribution: {
        shots: sorted.length,
        findings: row.findings,
        least: sorted[0] as number,
        median: rank(sorted, 50),
        most: sorted.at(-1) as number,
      },
      warnings,
      isThin,
    };
  }
}

class Row {
  /** The worst value of each shot that has one. */
  readonly worst: number[] = [];
  findings = 0;
  tried = 0;
  held = 0;

  add({ worst, findings, tried, held }: Probed): void {
    if (worst !== null) this.worst.push(worst);
    this.findings += findings;
    this.tried += tried;
    this.held += held;
  }
}

/** How many shots a percentile needs, so that at least one of them lies beyond it; no more are asked for than for the 99th. */
export function shotsNeeded(percentile: number): number {
  return Math.ceil(100 / (100 - Math.min(99, percentile)) - 1e-9);
}

/** Nearest-rank percentile of values in ascending order; `fromBelow` counts the share that lies under it. */
export function rank(sorted: readonly number[], percentile: number, fromBelow = false): number {
  const at = (percentile / 100) * sorted.length;
  // A hair of rounding must not move it by a whole rank.
  const index = fromBelow ? Math.floor(at + 1e-9) : Math.ceil(at - 1e-9) - 1;
  return sorted[Math.min(sorted.length - 1, Math.max(0, index))] as number;
}

/** A threshold with few digits, rounded so that the shot that it comes from stays without a note. */
function outward(value: number, side: "max" | "min"): number {
  const step = 10 ** (Math.floor(Math.log10(Math.abs(value))) - digits + 1);
  const steps = value / step;
  const rounded = side === "max" ? Math.floor(steps + 1e-9) + 1 : Math.ceil(steps - 1e-9) - 1;
  return Number((rounded * step).toPrecision(digits));
}

function bounded(
  value: number,
  side: "max" | "min",
  { bound, unit: declared }: Setting,
  unit: Setting["unit"],
  warnings: string[],
): number {
  const limit = bound?.[side];
  // In another unit (body heights for metres) a bound cannot be compared with it without a figure.
  if (bound === undefined || limit === undefined || unit !== declared) return value;
  const isLooser = side === "max" ? value > limit : value < limit;
  if (!isLooser) return value;
  warnings.push(
    `these shots would have ${value} ${unit}; kept at the bound of ${limit} ${unit}: ${bound.why}`,
  );
  return limit;
}

function clamped(value: number, { min, max, unit: declared }: Setting, unit: Setting["unit"]): number {
  if (unit !== declared) return value;
  return Math.min(max ?? Number.POSITIVE_INFINITY, Math.max(min ?? Number.NEGATIVE_INFINITY, value));
}
