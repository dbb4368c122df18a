import type { Drawing, KeysidePlayer } from "@keyside/player";
import type { Motion } from "@keyside/player/motion";
import type { Poses } from "@keyside/player/unpack";
import type { Desk } from "../desk.ts";

/** The moving figure, in step with the frame and the note of the desk. */
export class MotionPane {
  private readonly player = document.querySelector("keyside-player") as KeysidePlayer;
  private desk: Desk | null = null;
  /** Whether the desk is being told what the player shows, or the other way round: neither answers the other. */
  private isTelling = false;
  private isTellingNote = false;

  /** Takes what is to be played. */
  show(motion: Motion, poses: Poses): void {
    const isFirst = this.player.motion === null;
    this.player.revise(motion, poses);
    const { desk } = this;
    if (desk === null) return;
    if (isFirst) this.tellPlayer(desk);
    // A note that was chosen before the player knew it.
    this.tellNote(desk);
  }

  /** Where the pointer is over the picture, in pixels of the window; null where it is elsewhere. */
  private pointer: readonly [number, number] | null = null;
  private drawn: ((drawing: Drawing | null) => void) | null = null;

  /** Id of the node of the part that is under the pointer; null where there is none. */
  get underPointer(): string | null {
    const point = this.pointer === null ? null : this.player.pointAt(...this.pointer);
    if (point === null) return null;
    return this.desk?.shot?.nodes.find((node) => node.point === point)?.id ?? null;
  }

  /**
   * Has a line drawn over the picture, in the plane through a part.
   * @param node id of its node; null for the first figure
   * @returns null where it was given up
   */
  drawFor(node: string | null): Promise<Drawing | null> {
    const { player, desk } = this;
    const point = desk?.shot?.nodes.find(({ id }) => id === node)?.point ?? null;
    const through = point ?? player.motion?.figures[0]?.root ?? player.motion?.things[0]?.point ?? null;
    if (through === null) return Promise.resolve(null);
    this.drawn?.(null);
    const drawing = new Promise<Drawing | null>((resolve) => {
      this.drawn = resolve;
    });
    player.drawThrough(through);
    return drawing;
  }

  /** Gives up a line that is being drawn. Gives whether there was one. */
  dropLine(): boolean {
    const { drawing } = this.player;
    this.player.drawThrough(null);
    return drawing;
  }

  /** Plays, or stops. */
  toggle(): void {
    if (this.player.playing) this.player.pause();
    else this.player.play();
  }

  follow(desk: Desk): void {
    this.desk = desk;
    const { player } = this;
    player.addEventListener("pointermove", ({ clientX, clientY }) => {
      this.pointer = [clientX, clientY];
    });
    player.addEventListener("pointerleave", () => {
      this.pointer = null;
    });
    player.addEventListener("keyside-stroke", (event) => {
      const { drawn } = this;
      this.drawn = null;
      drawn?.((event as CustomEvent<Drawing | null>).detail);
    });
    player.addEventListener("keyside-frame", () => {
      if (this.isTelling) return;
      this.isTelling = true;
      desk.setFrame(player.frame);
      this.isTelling = false;
    });
    player.addEventListener("keyside-note", () => {
      if (this.isTellingNote) return;
      const note = desk.notes.all.find(({ number }) => number === player.note);
      if ((note?.fingerprint ?? null) !== desk.chosen) desk.choose(note?.fingerprint ?? null);
    });
    desk.bus.on(["frame", "shot"], () => this.tellPlayer(desk));
    desk.bus.on(["chosen"], () => this.tellNote(desk));
  }

  private tellNote(desk: Desk): void {
    const { player } = this;
    const note = desk.notes.find(desk.chosen);
    const number = note === null || note.shown === null ? null : note.number;
    if (this.isTellingNote || player.note === number) return;
    // One that it does not have yet it says to be none. It goes to the frames of one that it has, and so does the desk.
    this.isTellingNote = true;
    player.note = number;
    this.isTellingNote = false;
  }

  private tellPlayer(desk: Desk): void {
    if (this.isTelling || this.player.motion === null || this.player.frame === desk.frame) return;
    this.isTelling = true;
    this.player.frame = desk.frame;
    this.isTelling = false;
  }
}
