import { emptyReview, mergeReviews, printReview, type ReviewFile, readReview } from "@keyside/core";
import { UnreadableError } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import type { Files } from "../../base/files/read.ts";
import { DiskFile } from "./disk-file.ts";

/** How often a file that is half written is looked at before what can be read of it is taken. */
const mostLooks = 3;

/** What was found in the file when it was looked at. */
export interface ReviewNews {
  readonly review: ReviewFile;
  /** What became of it, in a sentence. */
  readonly message: string;
}

/**
 * The review file beside a shot. Each change is written at once, whole. What others wrote into the file meanwhile is
 * merged in before, so that nobody's words are lost.
 */
export class ReviewBeside {
  private readonly file: DiskFile;
  /** What is known to stand in the file. */
  private base: ReviewFile = emptyReview();
  private current: ReviewFile = emptyReview();
  private told: readonly string[] = [];
  /** How often the file was found half written, one look after the other. */
  private brokenLooks = 0;
  /** Why the disk refused when it was looked at last. */
  private refused = "";
  private turn: Promise<unknown> = Promise.resolve();

  /**
   * @param shot name of the shot, written into a file that is begun
   * @param file a path, and what it is called to people
   */
  constructor(shot: string, file: { readonly path: string; readonly shown: string }, files: Files) {
    this.file = new DiskFile(file.path, file.shown, null, files, bounds.settings);
    this.current = emptyReview(shot);
    this.base = this.current;
  }

  /** The file as it is named to people. */
  get shown(): string {
    return this.file.shown;
  }
  get review(): ReviewFile {
    return this.current;
  }
  /** What of the file cannot be used, a sentence each; it stays in the file. */
  get problems(): readonly string[] {
    return this.told;
  }

  /** Reads the file, where there is one. */
  async begin(): Promise<void> {
    let text: string | null;
    try {
      text = await this.file.read();
    } catch (error) {
      if (!(error instanceof UnreadableError)) throw error;
      this.told = [`${error.file}: ${error.message}`];
      return;
    }
    if (text === null) return;
    this.file.known = text;
    const { review, problems } = readReview(text);
    const wanted = this.current.shot;
    this.tellProblems(problems);
    this.current = review.shot === null ? { ...review, shot: wanted } : review;
    this.base = this.current;
  }

  /** Puts a changed review in place; {@link write} brings it to the disk. */
  put(review: ReviewFile): void {
    this.current = review;
  }

  /**
   * Writes what is not on the disk yet, merged with what others wrote there.
   * @param isLast whether nothing is waited for any more: of a file that is half written, what can be read is taken in
   * @returns what others wrote; null where there was nothing new
   * @throws UnreadableError where the disk refuses
   */
  write(isLast = false): Promise<ReviewNews | null> {
    return this.inTurn(async () => {
      const news = await this.takeIn(isLast);
      // What is half written is somebody's: it is waited for.
      if (this.brokenLooks === 0) await this.bringToDisk();
      return news;
    });
  }

  /**
   * Looks whether others wrote into the file, and writes what could not be written before.
   * @throws UnreadableError where it cannot be read or written; not twice in a row for the same reason
   */
  look(): Promise<ReviewNews | null> {
    return this.inTurn(async () => {
      try {
        const news = await this.takeIn();
        if (this.brokenLooks === 0 && this.current !== this.base) await this.bringToDisk();
        this.refused = "";
        return news;
      } catch (error) {
        if (!(error instanceof UnreadableError) || error.message === this.refused) return null;
        this.refused = error.message;
        throw error;
      }
    });
  }

  private async bringToDisk(): Promise<void> {
    const { current, file } = this;
    const text = printReview(current);
    const isNothing = file.known === null && text === printReview(emptyReview(current.shot));
    if (text !== file.known && !isNothing) await file.write(text);
    this.base = current;
  }

  /** Merges what stands in the file, where it is another text than is known. */
  private async takeIn(isLast = false): Promise<ReviewNews | null> {
    const { file } = this;
    if (!(await file.hasChanged())) {
      this.brokenLooks = 0;
      return null;
    }
    const text = (await file.read()) ?? "";
    const isBroken = !isJson(text) && text.trim() !== "";
    if (isBroken && !isLast && ++this.brokenLooks < mostLooks) return null;
    this.brokenLooks = 0;
    const { review: theirs, problems } = readReview(text);
    // Of a file that is gone, or broken, nothing tells what was taken out on purpose: all is kept.
    const isKept = isBroken || text.trim() === "";
    const { review, conflicts } = mergeReviews(isKept ? null : this.base, this.current, theirs);
    file.known = text;
    this.tellProblems(problems);
    [this.base, this.current] = [theirs, review];
    const both =
      conflicts.length === 0
        ? ""
        : ` ${conflicts.length === 1 ? "One entry was" : `${conflicts.length} entries were`} changed here and there at once; both stand.`;
    return {
      review,
      message: `${this.shown} was changed by somebody else; what they wrote is taken in.${both}`,
    };
  }

  private tellProblems(problems: ReturnType<typeof readReview>["problems"]): void {
    this.told = problems.map(({ line, message }) =>
      line === null ? `${this.shown}: ${message}` : `${this.shown}, line ${line}: ${message}`,
    );
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = this.turn.then(work, work);
    this.turn = done.catch(() => {});
    return done;
  }
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
