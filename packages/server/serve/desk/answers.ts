import { FeedError, FeedGone } from "@keyside/adapters";
import type { KeyEdit } from "@keyside/core";
import type { Answer, DeskKey, FoundFix, ToDesk } from "@keyside/desk/link";
import { UnreadableError, unexpectedly } from "../../base/errors.ts";
import { sentence } from "../../present/sheet/sheet.ts";
import type { Desk } from "./desk.ts";
import { NotTaken } from "./desk-text.ts";
import { keysOf } from "./keys.ts";
import { messageFrom } from "./messages.ts";
import { type Page, Refused, send } from "./page.ts";

/** What a request is answered with when it went well, beside that it did. */
type Gives = Pick<Extract<Answer, { ok: true }>, "keys" | "fix" | "remark">;

interface KnownFix {
  readonly revision: number;
  readonly title: string;
  readonly edits: readonly KeyEdit[];
}

/** Answers what pages ask, in the order in which it came, save what has to wait for the feed or the disk. */
export class Answers {
  private readonly desk: Desk;
  /** Fixes that were found, by fingerprint. */
  private readonly fixes = new Map<string, KnownFix>();
  /** What writes or reads the disk goes one after the other. */
  private turn: Promise<unknown> = Promise.resolve();

  constructor(desk: Desk) {
    this.desk = desk;
  }

  /** Takes the text of a page's message. */
  async take(page: Page, text: string): Promise<void> {
    const taken = messageFrom(text);
    if ("why" in taken) {
      const { request, why } = taken;
      if (request === null) send(page, { type: "trouble", message: why });
      else this.answer(page, request, { ok: false, reason: "misshapen", message: why });
      return;
    }
    const { request } = taken.message;
    try {
      const given = this.handle(page, taken.message);
      const gives = given instanceof Promise ? await given : given;
      this.answer(page, request, { ok: true, ...gives });
    } catch (error) {
      this.answer(page, request, { ok: false, ...refusalOf(error) });
    }
  }

  /** Waits until what was begun on the disk has ended. */
  async settled(): Promise<void> {
    await this.turn;
  }

  private answer(page: Page, request: number, how: object): void {
    send(page, { type: "answer", request, revision: this.desk.revision, ...how } as Answer);
  }

  private handle({ number }: Page, message: ToDesk): Gives | Promise<Gives> {
    const { desk } = this;
    switch (message.type) {
      case "keys":
        return { keys: message.of.map(({ node, channel }) => keysOf(desk.version.shot, node, channel)) };
      case "edit": {
        const { base, edits, label, group } = message;
        if (base < desk.documentSince) {
          throw new Refused(
            "changed",
            "Another document lies on the desk since; none of the edits was made.",
          );
        }
        // Pages choose their groups by themselves.
        desk.edit(edits, label, `${number} ${group}`, number, "edit");
        return {};
      }
      case "undo":
      case "redo": {
        if (desk.step(message.type, number)) return desk.reviewWritten.then(() => ({}));
        const what = message.type === "undo" ? "undo" : "do again";
        throw new Refused("nothing-to-undo", `There is nothing to ${what}.`);
      }
      case "fix":
        return this.fix(message.fingerprint);
      case "apply":
        this.apply(message.fingerprint, number);
        return {};
      case "review":
        return this.changeReview(message, number);
      case "save":
        return this.inTurn(() => this.save(message.over === true));
      case "reload":
        return this.inTurn(() => this.reload());
      case "keep":
        return this.inTurn(() => this.keep());
      case "recover":
        return this.inTurn(() => this.recover(message.id));
      case "discard":
        return this.inTurn(() => this.discard(message.id));
    }
  }

  /** Is answered once the change is on the disk. */
  private async changeReview(
    { change, label }: Extract<ToDesk, { type: "review" }>,
    by: number,
  ): Promise<Gives> {
    const gives = this.desk.changeReview(change, label, by);
    await this.desk.reviewWritten;
    return gives;
  }

  private async fix(fingerprint: string): Promise<Gives> {
    const { desk } = this;
    const note = desk.noteCalled(fingerprint);
    const { revision } = desk;
    const answer = (await desk.feed.fix(fingerprint)) as FixAnswer | null;
    if (answer === null) throw new Refused("no-feed", "The feed is not there just now; try again soon.");
    if (revision !== desk.revision) throw changedMeanwhile();
    const { fix, why } = answer;
    if (fix?.kind !== "fix") {
      const other = "Nothing that was tried clears this note and leaves all else as it is.";
      throw new Refused("no-fix", why === null ? other : sentence(why));
    }
    const { title, edits, moves, keys, gone, added } = fix;
    this.fixes.clear();
    this.fixes.set(fingerprint, { revision, title, edits });
    const found: FoundFix = {
      fingerprint,
      title: sentence(title),
      moves: moves.map(({ text }) => text),
      keys,
      gone,
      added: added.map(({ message }) => sentence(message)),
      ...desk.moveOf(sentence(title), edits, note),
    };
    return { fix: found };
  }

  private apply(fingerprint: string, by: number): void {
    const { desk, fixes } = this;
    const known = fixes.get(fingerprint);
    if (known === undefined)
      throw new Refused("no-fix", "No fix of this note is at hand; look for it first.");
    if (known.revision !== desk.revision) throw changedMeanwhile();
    fixes.clear();
    desk.edit(known.edits, known.title, null, by, "fix");
  }

  private async save(over: boolean): Promise<Gives> {
    const { desk } = this;
    const { saving, held } = desk;
    const what = over ? null : await saving.look();
    if (what !== null) {
      desk.tellDisk("changed", what);
      throw new Refused("changed-on-disk", `${what} Nothing was saved.`);
    }
    try {
      await saving.save(held);
    } catch (error) {
      if (error instanceof UnreadableError) throw new Refused("not-saved", `${error.file}: ${error.message}`);
      throw error;
    }
    // What was edited while the file was written is kept beside it, as before.
    await saving.keep(desk.held);
    desk.tellDisk("saved", `Saved to ${saving.document.shown}.`);
    return {};
  }

  private async reload(): Promise<Gives> {
    const { desk } = this;
    const { saving } = desk;
    const { text, waivers } = await saving.reread();
    if (text === null) throw new Refused("failed", `${saving.document.shown} is no longer there.`);
    const held = { text, waivers };
    desk.replace(held, `take ${saving.document.shown} as it is on disk`, () => saving.know(held, true));
    desk.keepSoon();
    return {};
  }

  private async keep(): Promise<Gives> {
    const { desk } = this;
    desk.saving.know(await desk.saving.reread(), false);
    desk.tellDisk("kept", `The next saving writes over ${desk.saving.document.shown}.`);
    return {};
  }

  private async recover(id: string): Promise<Gives> {
    const { desk } = this;
    const kept = this.kept(id);
    const { text, waivers } = kept;
    desk.replace({ text, waivers }, "take over edits that were not saved", () => desk.saving.adopt(kept));
    return {};
  }

  private async discard(id: string): Promise<Gives> {
    await this.desk.saving.discard(this.kept(id));
    this.desk.tellRecoveries();
    return {};
  }

  private kept(id: string) {
    const kept = this.desk.saving.kept(id);
    if (kept === undefined) throw new Refused("failed", `${id} is no longer at hand.`);
    return kept;
  }

  private inTurn(work: () => Promise<Gives>): Promise<Gives> {
    const done = this.turn.then(work);
    this.turn = done.catch(() => {});
    return done;
  }
}

/** What the feed answers to `keyside/fix`, as far as it is used here. */
interface FixAnswer {
  readonly fix: {
    readonly kind: "fix" | "sketch";
    readonly title: string;
    readonly edits: readonly KeyEdit[];
    readonly moves: readonly { readonly text: string }[];
    readonly keys: readonly (Omit<FoundFix["keys"][number], "before" | "after"> & {
      readonly before: DeskKey | null;
      readonly after: DeskKey | null;
    })[];
    readonly gone: readonly string[];
    readonly added: readonly { readonly message: string }[];
  } | null;
  readonly why: string | null;
}

function changedMeanwhile(): Refused {
  return new Refused("changed", "The shot has changed meanwhile; look for the fix again.");
}

function refusalOf(error: unknown): Pick<Extract<Answer, { ok: false }>, "reason" | "message"> {
  if (error instanceof Refused) return { reason: error.reason, message: error.message };
  if (error instanceof NotTaken) return { reason: "bad-edit", message: error.message };
  if (error instanceof FeedGone) {
    return { reason: "no-feed", message: "The feed has gone, and is started again; try again soon." };
  }
  if (error instanceof FeedError) {
    return error.reason === "unknown-note"
      ? { reason: "unknown-note", message: "This note is no more." }
      : { reason: "changed", message: changedMeanwhile().message };
  }
  if (error instanceof UnreadableError)
    return { reason: "failed", message: `${error.file}: ${error.message}` };
  return { reason: "failed", message: unexpectedly(error) };
}
