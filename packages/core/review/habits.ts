import { medianOf } from "../base/median.ts";

/* What comes again and again over many shots and their versions. It counts faults of shots, and ranks nobody. */

/** A version of a shot and the checks that found something in it. */
export interface HabitVersion {
  /** Name of its file, with its folder. */
  readonly file: string;
  readonly checks: ReadonlySet<string>;
  /** Groups in which it counts. */
  readonly groups: readonly string[];
  /** When it was made, in any unit; null where that is not known. */
  readonly time: number | null;
}

/** Below this many shots a share is not told: of a fault that none of nine shots has, up to a third of all may have it
 * (rule of three, 3/n: Hanley and Lippman-Hand 1983). */
export const leastShots = 10;
/** Below this many shots in which a fault has gone, no median is told: of five, the chance that all lie on one side of the
 * median is above 5 % (2 × 0.5⁵); of six it is 3 %. */
export const leastGone = 6;

/** How often a fault comes in a group, and how long it stays. */
export interface Habit {
  readonly check: string;
  /** Shots in which it was, in any version. */
  readonly shots: number;
  /** Share of all shots of the group, and its 95 % interval (Wilson 1927); null below {@link leastShots} shots. */
  readonly share: { readonly value: number; readonly from: number; readonly to: number } | null;
  /** Shots in which a later version no longer had it. */
  readonly gone: number;
  /** Versions that it took to go, in the median; null below {@link leastGone} such shots. */
  readonly versions: number | null;
  /** Shots of several versions whose last one still has it. */
  readonly stayed: number;
  /**
   * The share in the earlier half of the shots and in the later one, and whether the difference is more than chance (95 %
   * interval of Newcombe 1998, method 10); null where a half has fewer than {@link leastShots} shots, or no times are known.
   */
  readonly trend: {
    readonly earlier: number;
    readonly later: number;
    readonly verdict: "better" | "worse" | "no difference to tell";
  } | null;
}

/** What comes again in a group of shots. */
export interface HabitGroup {
  readonly name: string;
  /** Shots, however many versions each has. */
  readonly shots: number;
  readonly versions: number;
  /** What is in the most shots first. */
  readonly habits: readonly Habit[];
}

interface Timed {
  readonly time: number;
  readonly checks: ReadonlySet<string>;
}

interface Counted {
  shots: number;
  versions: number;
  /** Shots in which each check found something. */
  readonly found: Map<string, number>;
  /** Shots whose time is known: for them alone more than counts is kept. */
  readonly timed: Timed[];
  readonly gone: Map<string, number[]>;
  readonly stayed: Map<string, number>;
}

/** The name of a shot without the number of its version, and the number: "quay_0070_v2" is version 2 of "quay_0070". */
export function versionOfName(file: string): { readonly shot: string; readonly version: number } {
  const name = file.replace(/(?:\.curves)?\.[^./\\]+$/, "");
  const [, stem = name, number = "0"] = /^(.*?)[._ -]*(?:v|version|rev|r)[._ -]?(\d+)$/i.exec(name) ?? [];
  return { shot: stem, version: Number(number) };
}

/** Counts habits while shots come one at a time, versions of a shot one after the other; only counts are kept. */
export class HabitTally {
  private readonly groups = new Map<string, Counted>();
  private open: { readonly shot: string; readonly versions: HabitVersion[] } | null = null;

  /**
   * Takes the next version; all versions of a shot come one after the other, in any order.
   * @param version its time may be in any unit, the same for all
   */
  add(version: HabitVersion): void {
    const { shot } = versionOfName(version.file);
    if (this.open?.shot !== shot) {
      this.close();
      this.open = { shot, versions: [] };
    }
    this.open.versions.push(version);
  }

  /**
   * What was counted.
   * @returns groups by their names, never by their counts
   */
  result(): readonly HabitGroup[] {
    this.close();
    return [...this.groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, group]) => groupOf(name, group));
  }

  private close(): void {
    if (this.open === null) return;
    const versions = this.open.versions.sort(
      (a, b) => versionOfName(a.file).version - versionOfName(b.file).version,
    );
    this.open = null;
    const names = new Set(versions.flatMap(({ groups }) => groups));
    const checks = new Set(versions.flatMap((version) => [...version.checks]));
    const times = versions.flatMap(({ time }) => (time === null ? [] : [time]));
    for (const name of names) {
      const group = this.groupNamed(name);
      group.shots++;
      if (times.length > 0) group.timed.push({ time: Math.min(...times), checks });
      group.versions += versions.length;
      for (const check of checks) {
        group.found.set(check, (group.found.get(check) ?? 0) + 1);
        const first = versions.findIndex((version) => version.checks.has(check));
        const last = versions.findLastIndex((version) => version.checks.has(check));
        if (last < versions.length - 1) listIn(group.gone, check).push(last + 1 - first);
        else if (versions.length > 1) group.stayed.set(check, (group.stayed.get(check) ?? 0) + 1);
      }
    }
  }

  private groupNamed(name: string): Counted {
    let group = this.groups.get(name);
    if (group === undefined) {
      group = { shots: 0, versions: 0, found: new Map(), timed: [], gone: new Map(), stayed: new Map() };
      this.groups.set(name, group);
    }
    return group;
  }
}

function listIn(map: Map<string, number[]>, key: string): number[] {
  let list = map.get(key);
  if (list === undefined) {
    list = [];
    map.set(key, list);
  }
  return list;
}

function groupOf(name: string, { shots, versions, found, timed, gone, stayed }: Counted): HabitGroup {
  const inOrder = [...timed].sort((a, b) => a.time - b.time);
  const half = Math.floor(inOrder.length / 2);
  const halves = [inOrder.slice(0, half), inOrder.slice(inOrder.length - half)] as const;
  const habits = [...found].map(([check, all]): Habit => {
    const count = (list: readonly Timed[]) => list.filter((shot) => shot.checks.has(check)).length;
    const took = gone.get(check) ?? [];
    return {
      check,
      shots: all,
      share: shots < leastShots ? null : { value: all / shots, ...wilson(all, shots) },
      gone: took.length,
      versions: took.length < leastGone ? null : medianOf(took),
      stayed: stayed.get(check) ?? 0,
      trend: half < leastShots ? null : trendOf(count(halves[0]), count(halves[1]), half),
    };
  });
  habits.sort((a, b) => b.shots - a.shots || (a.check < b.check ? -1 : 1));
  return { name, shots, versions, habits };
}

/** The normal quantile of a two-sided 95 % interval. */
const z = 1.959964;

/**
 * The 95 % interval of a share (Wilson 1927).
 * @param count how many of them
 * @param of how many there are, above 0
 * @returns the ends of the interval, 0 to 1
 */
export function wilson(count: number, of: number): { readonly from: number; readonly to: number } {
  const share = count / of;
  const middle = share + (z * z) / (2 * of);
  const reach = z * Math.sqrt((share * (1 - share)) / of + (z * z) / (4 * of * of));
  const whole = 1 + (z * z) / of;
  return { from: Math.max(0, (middle - reach) / whole), to: Math.min(1, (middle + reach) / whole) };
}

function trendOf(before: number, after: number, of: number): NonNullable<Habit["trend"]> {
  const [earlier, later] = [before / of, after / of];
  const [one, two] = [wilson(before, of), wilson(after, of)];
  const fall = earlier - later;
  const low = fall - Math.hypot(earlier - one.from, two.to - later);
  const high = fall + Math.hypot(one.to - earlier, later - two.from);
  return { earlier, later, verdict: low > 0 ? "better" : high < 0 ? "worse" : "no difference to tell" };
}
