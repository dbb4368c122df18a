import { basename } from "node:path";
import type { FeedNote } from "@keyside/adapters";
import {
  figureOfNode,
  figuresOf,
  isOfAnotherShot,
  type Remark,
  type ReviewFile,
  reviewVersionOf,
  rigOf,
  type Shot,
  type Study,
  targetFitOf,
  type Waiver,
  waiversOfReview,
} from "@keyside/core";
import type { DeskReview, DeskTarget, FromDesk, ReviewChange } from "@keyside/desk/link";
import type { Files } from "../../base/files/read.ts";
import type { LaidOut } from "./laid-out.ts";
import { ReviewBeside } from "./review-beside.ts";
import { type Changed, reviewAfter } from "./review-change.ts";
import { deskReview } from "./review-told.ts";

/** What people say of a shot while it lies on a desk: its file, what the pages are told of it, and its target paths. */
export class Reviewing {
  private readonly beside: ReviewBeside;
  private readonly previous: ReviewFile | null;
  private readonly file: string;
  private readonly reviewer: string;
  private readonly name: string;
  private waived: readonly Waiver[] = [];
  private last = "";

  constructor({ loaded, target, reviewFile, previous }: LaidOut, files: Files, reviewer: string) {
    this.beside = new ReviewBeside(loaded.name, reviewFile, files);
    this.previous = previous;
    this.file = basename(target.shown);
    this.reviewer = reviewer;
    this.name = loaded.name;
  }

  async begin(): Promise<void> {
    await this.beside.begin();
    this.waived = this.dropped();
  }

  get review(): ReviewFile {
    return this.beside.review;
  }

  /** A waiver for each note that the review drops. */
  get waivers(): readonly Waiver[] {
    return this.waived;
  }

  /** The review after a change; nothing is put in place. @throws Refused */
  after(change: ReviewChange, shot: Shot, noteCalled: (fingerprint: string) => FeedNote): Changed {
    return reviewAfter(this.review, change, {
      date: new Date().toISOString(),
      reviewer: this.reviewer,
      version: reviewVersionOf(shot, this.file),
      noteCalled,
      aboutNode: (node) => this.aboutNode(node),
      isOfPrevious: (id) => this.previous?.remarks.some((remark) => remark.id === id) === true,
    });
  }
  private study: Study | null = null;

  private aboutNode(node: string): Pick<Remark, "figure" | "part"> {
    const { study } = this;
    const index = study === null ? undefined : rigOf(study).indexOf.get(node);
    const figure =
      study === null || index === undefined ? undefined : figuresOf(study)[figureOfNode(study, index)];
    if (figure === undefined || index === undefined) return {};
    const part = figure.partOf.get(index);
    return { figure: figure.id, ...(part === undefined ? {} : { part }) };
  }

  /** Puts a review in place. Gives whether other notes are dropped than before. */
  put(review: ReviewFile): boolean {
    this.beside.put(review);
    return this.waiveAnew();
  }

  /** A waiver for each note that the review drops; none where it is of another shot. */
  private dropped(): readonly Waiver[] {
    return isOfAnotherShot(this.review, this.name) ? [] : waiversOfReview(this.review);
  }

  private waiveAnew(): boolean {
    const waived = this.dropped();
    const isOther = JSON.stringify(waived) !== JSON.stringify(this.waived);
    this.waived = waived;
    return isOther;
  }

  /**
   * Writes it. Gives what others wrote meanwhile, in a sentence; null for nothing.
   * @param isLast whether the desk ends, so that a file that is half written is not waited for
   * @throws UnreadableError
   */
  async write(isLast = false): Promise<string | null> {
    return this.taken(await this.beside.write(isLast));
  }

  /** Looks whether others wrote into the file. @throws UnreadableError */
  async look(): Promise<string | null> {
    return this.taken(await this.beside.look());
  }

  private taken(news: { readonly message: string } | null): string | null {
    if (news === null) return null;
    this.waiveAnew();
    return news.message;
  }

  /** All of it as the pages are told. */
  told(study: Study, notes: readonly FeedNote[]): DeskReview {
    this.study = study;
    const { review, problems, shown } = this.beside;
    const { previous, file, reviewer, name } = this;
    const told = deskReview({ review, problems, shown, previous, file, reviewer, name }, study, notes);
    this.last = JSON.stringify(told);
    return told;
  }

  /** The same where it is other than was told last; null where it is not. */
  toldIfOther(study: Study, notes: readonly FeedNote[]): DeskReview | null {
    const before = this.last;
    const told = this.told(study, notes);
    return this.last === before ? null : told;
  }

  get hasTargets(): boolean {
    return this.remarks.some(({ strokes = [] }) => strokes.some(({ target }) => target !== undefined));
  }

  private get remarks(): readonly Remark[] {
    return [...(this.previous?.remarks ?? []), ...this.review.remarks];
  }

  /** How far parts are from the paths that were drawn for them. */
  targets(study: Study, revision: number): Extract<FromDesk, { type: "targets" }> {
    const targets: DeskTarget[] = [];
    for (const remark of this.remarks) {
      remark.strokes?.forEach((stroke, at) => {
        const fit = targetFitOf(study, stroke);
        if (fit === null) return;
        const { node, mean, largest, largestAt } = fit;
        targets.push({
          ...{ remark: remark.id, stroke: at, node, at: largestAt },
          mean: 100 * mean,
          largest: 100 * largest,
        });
      });
    }
    return { type: "targets", revision, targets };
  }
}
