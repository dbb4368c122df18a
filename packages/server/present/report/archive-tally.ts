import { type ReportedFailure, type ReportedNote, type ReportedShot, type Tier, tiers } from "@keyside/core";
import { failureText } from "../text/failure.ts";
import { isShown } from "../text/shown.ts";
import { waivedIn } from "../text/waived.ts";

export type TierCounts = Record<Tier, number>;

/** Notes that are counted together, and in how many shots they stand. */
export interface Tallied {
  readonly tiers: TierCounts;
  shots: number;
  failing: number;
}

/** One of the shots in which most is wrong. */
export interface WorstShot {
  readonly file: string;
  readonly name: string;
  readonly tiers: TierCounts;
  readonly failing: boolean;
  /** Sum of the notes' weights. */
  readonly weight: number;
  /** What the biggest note says, with its check. */
  readonly first: WorstNote;
}

interface WorstNote {
  readonly check: string;
  readonly part: string;
  readonly message: string;
  readonly fingerprint: string;
}

/** So many of the worst shots are kept. */
export const worstKept = 50;
/** More folders than these are counted with the folders above them. */
export const foldersKept = 400;

/** Counts over a whole run, in memory that does not grow with the number of shots. */
export class ArchiveTally {
  readonly all: Tallied = emptyTally();
  readonly checks = new Map<string, Tallied>();
  /** Shots without a note that is shown. */
  clean = 0;
  waived = 0;
  known = 0;
  /** What people say, by what became of it; null while no shot has a review file. */
  remarks: { open: number; done: number; praise: number } | null = null;
  errors = 0;
  /** Checks that ended in an error: in how many shots, and what was said of it first. */
  readonly failures = new Map<string, { shots: number; readonly file: string; readonly text: string }>();
  /** Notes of tiers that are not shown. */
  hidden = 0;
  hasBaseline = false;
  private readonly byFolder = new Map<string, Tallied>();
  /** How many parts of a folder's path are told apart. */
  private depth = Number.POSITIVE_INFINITY;
  private readonly kept: WorstShot[] = [];
  private readonly lightest: Tier;

  constructor(lightest: Tier) {
    this.lightest = lightest;
  }

  shot(shot: ReportedShot): void {
    const notes = shot.notes.filter(({ tier }) => isShown(tier, this.lightest));
    this.hidden += shot.notes.length - notes.length;
    this.waived += waivedIn(shot).length;
    for (const failure of shot.failures ?? []) this.fail(shot.file, failure);
    this.countRemarks(shot);
    if (shot.known !== undefined) this.hasBaseline = true;
    this.known += shot.known ?? 0;
    const counts = emptyCounts();
    let weight = 0;
    const seen = new Set<string>();
    for (const { tier, check, weight: one } of notes) {
      counts[tier]++;
      weight += one;
      const tally = tallyAt(this.checks, check);
      tally.tiers[tier]++;
      if (!seen.has(check)) {
        seen.add(check);
        tally.shots++;
        if (shot.failing) tally.failing++;
      }
    }
    add(this.all, counts, shot.failing);
    add(tallyAt(this.byFolder, this.folderOf(shot.file)), counts, shot.failing);
    this.foldFolders();
    if (notes.length === 0) this.clean++;
    else this.keepIfWorse(shot, notes, counts, weight);
  }

  /** Folders by name, each with the shots that stand in it. */
  folders(): [string, Tallied][] {
    return [...this.byFolder].sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  }

  /** Whether some folders are counted with those above them. */
  get foldersAreFolded(): boolean {
    return Number.isFinite(this.depth);
  }

  /** The worst shots, worst first. */
  worst(): readonly WorstShot[] {
    return this.kept;
  }

  private countRemarks({ review }: ReportedShot): void {
    if (review === undefined) return;
    this.remarks ??= { open: 0, done: 0, praise: 0 };
    for (const item of review.list) {
      if (item.kind === "remark")
        this.remarks[item.weight === "keep" ? "praise" : item.state === "done" ? "done" : "open"]++;
    }
  }

  private fail(file: string, failure: ReportedFailure): void {
    const known = this.failures.get(failure.check);
    if (known === undefined) this.failures.set(failure.check, { shots: 1, file, text: failureText(failure) });
    else known.shots++;
  }

  private folderOf(file: string): string {
    const parts = file.replaceAll("\\", "/").split("/").slice(0, -1);
    return parts.slice(0, Math.min(parts.length, this.depth)).join("/") || (file.startsWith("/") ? "/" : ".");
  }

  /** Where there are too many folders, the deepest are counted with the folders above them. */
  private foldFolders(): void {
    while (this.byFolder.size > foldersKept) {
      const deepest = Math.max(...[...this.byFolder.keys()].map((folder) => folder.split("/").length));
      if (deepest <= 1) return;
      this.depth = deepest - 1;
      for (const [folder, tally] of [...this.byFolder]) {
        const parts = folder.split("/");
        if (parts.length < deepest) continue;
        this.byFolder.delete(folder);
        const above = tallyAt(this.byFolder, parts.slice(0, this.depth).join("/") || "/");
        for (const tier of tiers) above.tiers[tier] += tally.tiers[tier];
        above.shots += tally.shots;
        above.failing += tally.failing;
      }
    }
  }

  private keepIfWorse(
    shot: ReportedShot,
    notes: readonly ReportedNote[],
    counts: TierCounts,
    weight: number,
  ): void {
    const [{ check, part, message, fingerprint }] = notes as [ReportedNote];
    const { file, name, failing } = shot;
    const first = { check, part, message, fingerprint };
    const entry: WorstShot = { file, name, failing, weight, tiers: counts, first };
    let at = this.kept.length;
    while (at > 0 && isWorse(entry, this.kept[at - 1] as WorstShot)) at--;
    if (at >= worstKept) return;
    this.kept.splice(at, 0, entry);
    if (this.kept.length > worstKept) this.kept.pop();
  }
}

/** A document that is broken first, then the shot with more major notes, then the one with more weight in all. */
function isWorse(a: WorstShot, b: WorstShot): boolean {
  for (const tier of ["broken", "major"] as const) {
    if (a.tiers[tier] !== b.tiers[tier]) return a.tiers[tier] > b.tiers[tier];
  }
  return a.weight > b.weight;
}

function emptyCounts(): TierCounts {
  return { broken: 0, major: 0, minor: 0, polish: 0 };
}

export function sumOf(counts: TierCounts): number {
  return tiers.reduce((sum, tier) => sum + counts[tier], 0);
}

function emptyTally(): Tallied {
  return { tiers: emptyCounts(), shots: 0, failing: 0 };
}

function tallyAt(map: Map<string, Tallied>, name: string): Tallied {
  let tally = map.get(name);
  if (tally === undefined) {
    tally = emptyTally();
    map.set(name, tally);
  }
  return tally;
}

function add(tally: Tallied, counts: TierCounts, failing: boolean): void {
  for (const tier of tiers) tally.tiers[tier] += counts[tier];
  tally.shots++;
  if (failing) tally.failing++;
}
