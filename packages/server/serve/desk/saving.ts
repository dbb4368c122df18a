import { rm } from "node:fs/promises";
import type { DeskDisk, DeskRecovery } from "@keyside/desk/link";
import { bounds } from "../../base/files/bounds.ts";
import type { Files } from "../../base/files/read.ts";
import { DiskFile } from "./disk-file.ts";
import type { Held } from "./history.ts";
import type { LaidOut } from "./laid-out.ts";
import { hashOf, type Unsaved, UnsavedFile, unsavedBeside } from "./unsaved.ts";

/** How a desk's shot stands against the disk: its file, the file of waivers, and what is kept of unsaved edits. */
export class Saving {
  /** The shot's file, and that of its waivers. */
  readonly document: DiskFile;
  readonly waivers: DiskFile;
  private readonly unsaved: UnsavedFile;
  private readonly base: LaidOut["base"];
  private readonly files: Files;
  /** What is safe: it was read from disk, or saved. */
  private saved: Held;
  private found: Unsaved[] = [];
  /** Whether a file has changed on disk, and nobody has said what is to become of it. */
  hasChanged = false;

  constructor({ isCopy, target, waiversFile, version, waivers, base, loaded }: LaidOut, files: Files) {
    const known = isCopy ? null : loaded.text;
    this.document = new DiskFile(target.path, target.shown, known, files, bounds.shot);
    const ofWaivers = waivers === "" ? null : waivers;
    this.waivers = new DiskFile(waiversFile.path, waiversFile.shown, ofWaivers, files, bounds.settings);
    this.unsaved = new UnsavedFile(base.path, base.shown, files);
    this.saved = { text: version.text, waivers };
    this.base = base;
    this.files = files;
  }

  /** How what is on the desk stands against the disk. */
  disk(held: Held): DeskDisk {
    return { isUnsaved: this.isUnsaved(held), hasChanged: this.hasChanged };
  }

  isUnsaved({ text, waivers }: Held): boolean {
    return text !== this.saved.text || waivers !== this.saved.waivers;
  }

  /** Looks whether a file has changed. Gives in words what has, null for nothing. @throws UnreadableError */
  async look(): Promise<string | null> {
    for (const file of [this.document, this.waivers]) {
      const { known, shown } = file;
      if (!(await file.hasChanged())) continue;
      this.hasChanged = true;
      if (known === null) return `${shown} is there already, and did not come from this desk.`;
      return (await file.read()) === null ? `${shown} is no longer there.` : `${shown} has changed on disk.`;
    }
    return null;
  }

  /** Writes what is not on disk yet; whoever calls has looked before. @throws UnreadableError */
  async save(held: Held): Promise<void> {
    const { document, waivers } = this;
    if (document.known !== held.text) await document.write(held.text);
    if (held.waivers === "" && waivers.known !== null) {
      // The file came with the first waiver, and goes with the last.
      await rm(waivers.path, { force: true });
      waivers.known = null;
    } else if (held.waivers !== (waivers.known ?? "")) await waivers.write(held.waivers);
    this.saved = held;
    this.hasChanged = false;
  }

  /** What the files hold now, which is known from here on. The document is null where there is none. @throws UnreadableError */
  async reread(): Promise<{ readonly text: string | null; readonly waivers: string }> {
    const [text, waivers] = [await this.document.read(), await this.waivers.read()];
    return { text, waivers: waivers ?? "" };
  }

  /** Takes what was read as known; `isTaken` where it is what is on the desk from here on. */
  know(
    { text, waivers }: { readonly text: string | null; readonly waivers: string },
    isTaken: boolean,
  ): void {
    this.document.known = text;
    this.waivers.known = waivers === "" ? null : waivers;
    this.hasChanged = false;
    if (isTaken && text !== null) this.saved = { text, waivers };
  }

  /** Keeps what is not saved beside the shot, or takes away what was kept. Gives the name of the file. @throws UnreadableError */
  async keep(held: Held): Promise<string | null> {
    if (this.isUnsaved(held)) await this.unsaved.keep(held, this.document.known);
    else await this.unsaved.drop();
    return this.unsaved.name;
  }

  /** Looks for what earlier desks have not saved; what is on disk all the same is taken away. */
  async findUnsaved(): Promise<void> {
    for (const one of await unsavedBeside(this.base.path, this.base.shown, this.files)) {
      if (this.isUnsaved(one)) this.found.push(one);
      else await rm(one.path, { force: true });
    }
  }

  get recoveries(): DeskRecovery[] {
    const known = this.document.known;
    const now = known === null ? null : hashOf(known);
    return this.found.map(({ shown, when, of }) => {
      const since =
        of === now ? "" : " The file has changed since; they would take the place of what it holds.";
      return { id: shown, when, message: `${shown} holds edits that were not saved.${since}` };
    });
  }

  /** The edits of an earlier desk, by the name that {@link recoveries} gave; undefined for none. */
  kept(id: string): Unsaved | undefined {
    return this.found.find(({ shown }) => shown === id);
  }

  /** The edits of an earlier desk are on this one from here on. */
  adopt(one: Unsaved): void {
    this.found = this.found.filter((other) => other !== one);
    this.unsaved.adopt(one);
  }

  /** Throws the edits of an earlier desk away. */
  async discard(one: Unsaved): Promise<void> {
    this.found = this.found.filter((other) => other !== one);
    await rm(one.path, { force: true });
  }
}
