import type { Interpolation } from "@keyside/core/curves";
import { HandleDrag, KeyDrag } from "./curves/drag.ts";
import type { Side } from "./curves/handles.ts";
import { modeOf } from "./curves/handles.ts";
import { addition, removals, runAs, ways, withHandles } from "./curves/key-edits.ts";
import { keyAt, nearestKey } from "./curves/picked.ts";
import type { Desk } from "./desk.ts";
import type { Step } from "./state/sender.ts";

/** What the hand asks of the desk, whether by pointer, by letter or by button. */
export class Actions {
  private readonly desk: Desk;
  /** The step to which moves by a key that is held down belong. */
  private held: Step | null = null;

  constructor(desk: Desk) {
    this.desk = desk;
  }

  /** Adds a key on a channel's curve at a frame, and chooses it; on that of the chosen key where none is named. */
  async add(frame: number, name = this.desk.picked.lead?.name ?? this.desk.shown[0]): Promise<void> {
    const { desk } = this;
    if (name === undefined) return;
    const at = Math.round(frame);
    const isMade = await desk.sender.make(desk.sender.step("add a key"), () => {
      const curve = desk.curve(name);
      return curve === null ? [] : addition(curve, at);
    });
    const curve = desk.curve(name);
    if (curve === null || keyAt(curve, at) < 0) return;
    desk.pick([{ name, frame: at }]);
    if (!isMade) desk.say(`There is a key at frame ${at} already.`);
  }

  /** Takes the chosen keys out. */
  async remove(): Promise<void> {
    const { desk } = this;
    const count = desk.pickedKeys().length;
    if (count === 0) return;
    const { lead } = desk.picked;
    const step = desk.sender.step(count === 1 ? "take a key out" : `take ${count} keys out`);
    await desk.sender.make(step, () => removals(desk.pickedKeys()));
    // The key that is nearest is chosen, so that the next letter has a place.
    const curve = lead === null ? null : desk.curve(lead.name);
    const next = curve === null || lead === null ? -1 : nearestKey(curve, lead.frame);
    if (curve !== null && lead !== null && next >= 0)
      desk.pick([{ name: lead.name, frame: curve.frames[next] }]);
  }

  /**
   * Moves the chosen keys by frames and values.
   * @param goesOn whether it is one step with the move before, as where a key is held down
   */
  nudge(frames: number, values: number, goesOn: boolean): void {
    const { desk } = this;
    const keys = desk.pickedKeys();
    if (keys.length === 0) return;
    if (!goesOn || this.held === null) this.held = desk.sender.step(new KeyDrag(keys).label);
    void desk.sender.make(this.held, () => {
      const now = desk.pickedKeys();
      if (now.length === 0) return [];
      const drag = new KeyDrag(now);
      drag.to(frames, values);
      const edits = drag.whole();
      if (edits.length > 0) desk.picked.set(drag.picks);
      return edits;
    });
  }

  /** Pulls a handle of the key that leads by frames and values. */
  pull(side: Side, frames: number, values: number, goesOn: boolean): void {
    const { desk } = this;
    if (!goesOn || this.held === null) this.held = desk.sender.step("pull a handle");
    void desk.sender.make(this.held, () => {
      const lead = desk.pickedKeys().at(-1);
      if (lead === undefined) return [];
      const drag = new HandleDrag(lead.curve, lead.key, side);
      drag.to(frames, values, false);
      return drag.whole();
    });
  }

  /** Lets the segments that start at the chosen keys run in another way; the next one where none is named. */
  runAs(way?: Interpolation): void {
    const { desk } = this;
    const lead = desk.pickedKeys().at(-1);
    if (lead === undefined) return;
    const next = way ?? ways[(ways.indexOf(modeOf(lead.curve, lead.key)) + 1) % ways.length];
    void desk.sender.make(desk.sender.step(`run as ${next}`), () => runAs(desk.pickedKeys(), next));
  }

  /** Gives the key that leads handles. */
  giveHandles(): void {
    const { desk } = this;
    void desk.sender.make(desk.sender.step("give a key handles"), () => {
      const lead = desk.pickedKeys().at(-1);
      return lead === undefined ? [] : withHandles(lead.curve, lead.key);
    });
  }

  /** Goes to the key before or after on the channel of the key that leads, and to its frame. */
  stepKey(by: 1 | -1): void {
    const { desk } = this;
    const name = desk.picked.lead?.name ?? desk.shown[0];
    const curve = name === undefined ? null : desk.curve(name);
    if (name === undefined || curve === null || curve.frames.length === 0) return;
    const from = desk.picked.lead?.frame;
    const key = from === undefined ? nearestKey(curve, desk.frame) : nearestKey(curve, from) + by;
    this.goTo(name, curve.frames[Math.min(curve.frames.length - 1, Math.max(0, key))]);
  }

  /** Goes to the channel above or below, to the key that is nearest there. */
  stepChannel(by: 1 | -1): void {
    const { desk } = this;
    const { lead } = desk.picked;
    const at = lead === null ? 0 : desk.shown.indexOf(lead.name) + by;
    const name = desk.shown[Math.min(desk.shown.length - 1, Math.max(0, at))];
    const curve = name === undefined ? null : desk.curve(name);
    const key = curve === null ? -1 : nearestKey(curve, lead?.frame ?? desk.frame);
    if (name !== undefined && curve !== null && key >= 0) this.goTo(name, curve.frames[key]);
  }

  /** Chooses a key and shows its frame. */
  goTo(name: string, frame: number): void {
    const { desk } = this;
    if (!desk.shown.includes(name)) desk.show([...desk.shown, name]);
    desk.pick([{ name, frame }]);
    desk.view.reveal(frame);
    desk.bus.tell("view");
    desk.setFrame(frame);
  }

  /** Chooses the keys that stand at the frame that is shown, on all channels that are shown. */
  pickPose(): void {
    const { desk } = this;
    const picks = desk.shown.flatMap((name) => {
      const curve = desk.curve(name);
      const key = curve === null ? -1 : keyAt(curve, desk.frame);
      return curve === null || key < 0 ? [] : [{ name, frame: curve.frames[key] }];
    });
    if (picks.length === 0) desk.say(`No key of the channels shown stands at frame ${desk.frame}.`);
    else desk.pick(picks);
  }

  /** Shows the next frame, or the one before. */
  stepFrame(by: number): void {
    const { desk } = this;
    if (desk.shot === null) return;
    const [first, last] = desk.shot.range;
    const frame = Math.min(last, Math.max(first, Math.round(desk.frame) + by));
    desk.view.reveal(frame);
    desk.bus.tell("view");
    desk.setFrame(frame);
  }

  /** Goes to the next note, or the one before, in the order in which they matter. */
  stepNote(by: 1 | -1): void {
    const { desk } = this;
    const { all } = desk.notes;
    if (all.length === 0) return;
    const at = all.findIndex(({ fingerprint }) => fingerprint === desk.chosen);
    const next = at < 0 ? (by > 0 ? 0 : all.length - 1) : Math.min(all.length - 1, Math.max(0, at + by));
    desk.choose(all[next].fingerprint);
  }

  async undo(): Promise<void> {
    await this.ask("undo");
  }
  async redo(): Promise<void> {
    await this.ask("redo");
  }

  private async ask(type: "undo" | "redo"): Promise<void> {
    await this.desk.sender.settled();
    const what = this.desk.history[type];
    const answer = await this.desk.ask({ type });
    const done = type === "undo" ? "Undone" : "Done again";
    this.desk.say(answer.ok ? `${done}: ${what ?? "the last step"}.` : answer.message);
  }

  async save(isOver = false): Promise<void> {
    await this.desk.sender.settled();
    const answer = await this.desk.ask(isOver ? { type: "save", over: true } : { type: "save" });
    if (!answer.ok) this.desk.say(answer.message);
  }

  /** Takes the file as it is on disk, or goes on with what is here. */
  async decide(type: "reload" | "keep"): Promise<void> {
    const answer = await this.desk.ask({ type });
    if (!answer.ok) this.desk.say(answer.message);
  }

  async recover(type: "recover" | "discard", id: string): Promise<void> {
    const answer = await this.desk.ask({ type, id });
    if (!answer.ok) this.desk.say(answer.message);
  }

  /** Looks for a fix of a note. */
  async findFix(fingerprint: string): Promise<void> {
    const { desk } = this;
    desk.say("A fix is looked for. This can take some seconds.");
    await desk.sender.settled();
    const answer = await desk.ask({ type: "fix", fingerprint });
    if (!answer.ok) {
      desk.say(answer.message);
      return;
    }
    if (answer.fix === undefined || answer.revision !== desk.revision) return;
    desk.notes.fix = { found: answer.fix, revision: answer.revision };
    desk.say(`A fix was found and tried: ${answer.fix.title}`);
    await desk.moving.take([], desk.notes);
    desk.bus.tell("notes");
  }

  /** Makes the fix that was found. */
  async applyFix(fingerprint: string): Promise<void> {
    const answer = await this.desk.ask({ type: "apply", fingerprint });
    if (!answer.ok) this.desk.say(answer.message);
  }
}
