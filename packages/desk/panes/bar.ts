import type { Actions } from "../actions.ts";
import type { Desk } from "../desk.ts";
import { button, byId, el, setText } from "./element.ts";

/** The head of the page: the shot, undo and redo, saving, and how the shot stands, in words. */
export class Bar {
  private readonly desk: Desk;
  private readonly actions: Actions;
  private readonly undo: HTMLButtonElement;
  private readonly redo: HTMLButtonElement;
  private readonly save: HTMLButtonElement;
  private decided = "";

  constructor(desk: Desk, actions: Actions, showLetters: () => void) {
    [this.desk, this.actions] = [desk, actions];
    this.undo = button("Undo", () => void actions.undo(), { id: "undo", "aria-keyshortcuts": "U" });
    this.redo = button("Redo", () => void actions.redo(), { id: "redo", "aria-keyshortcuts": "R" });
    this.save = button("Save", () => void actions.save(), { id: "save", "aria-keyshortcuts": "S" });
    byId("tools").append(
      this.undo,
      this.redo,
      this.save,
      button("Keys", showLetters, { id: "show-letters", "aria-keyshortcuts": "K" }),
    );
    desk.bus.on(["shot"], () => this.tellShot());
    desk.bus.on(["standing", "shot"], () => this.tellStanding());
  }

  private tellShot(): void {
    const { shot } = this.desk;
    if (shot === null) return;
    document.title = `${shot.name}: desk`;
    setText(byId("name"), shot.name);
    const copy = shot.isCopy ? `, opened as a copy of the ${shot.kind} and saved as ${shot.savedTo}` : "";
    const frames = `frames ${shot.range[0]} to ${shot.range[1]}, ${shot.frameRate} a second`;
    setText(byId("facts"), `${shot.file}${copy}; ${frames}`);
  }

  private tellStanding(): void {
    const { desk } = this;
    const { history, disk } = desk;
    for (const [tool, what, verb] of [
      [this.undo, history.undo, "Undo"],
      [this.redo, history.redo, "Redo"],
    ] as const) {
      tool.disabled = what === null;
      tool.title = what === null ? "" : `${verb}: ${what}`;
    }
    const states = [
      disk.isUnsaved ? "Unsaved changes" : "Saved",
      disk.hasChanged ? "the file has changed on disk" : null,
      desk.feedTrouble === "" ? null : desk.feedTrouble,
      desk.lost === "" ? null : desk.lost,
    ];
    const line = states.filter((state) => state !== null).join("; ");
    setText(byId("states"), desk.shot === null && desk.lost === "" ? "" : line);
    byId("states").classList.toggle("is-unsaved", disk.isUnsaved);
    setText(byId("said"), desk.said);
    this.tellDecisions();
  }

  /** What somebody has to decide: about a file that has changed, and about what an earlier desk did not save. */
  private tellDecisions(): void {
    const { desk, actions } = this;
    const { disk, recoveries, shot } = desk;
    const wanted = JSON.stringify([disk, recoveries, shot?.problems]);
    if (wanted === this.decided) return;
    this.decided = wanted;
    const parts: HTMLElement[] = [];
    if (disk.hasChanged) {
      const lost = disk.isUnsaved ? " Your changes become one step that can be undone." : "";
      parts.push(
        el(
          "section",
          { class: "decision", role: "alert", id: "disk-decision" },
          el(
            "p",
            {},
            `The file has changed on disk since it was read. Nothing is saved until you decide.${lost}`,
          ),
          button("Take it as it is on disk", () => void actions.decide("reload")),
          button("Go on with what is here", () => void actions.decide("keep")),
          button("Save over it", () => void actions.save(true)),
        ),
      );
    }
    for (const { id, message, when } of recoveries) {
      parts.push(
        el(
          "section",
          { class: "decision", role: "alert" },
          el("p", {}, `${message} (${new Date(when).toLocaleString()})`),
          button("Take it over", () => void actions.recover("recover", id)),
          button("Throw it away", () => void actions.recover("discard", id)),
        ),
      );
    }
    if (shot !== null && shot.problems.length > 0) {
      const items = shot.problems.map((problem) => el("li", {}, problem));
      const count = `${items.length} ${items.length === 1 ? "fault" : "faults"} in the file`;
      parts.push(el("details", { class: "decision" }, el("summary", {}, count), el("ul", {}, ...items)));
    }
    byId("decisions").replaceChildren(...parts);
  }
}
