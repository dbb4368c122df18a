import { button, byId, el } from "./element.ts";

/** A key of the keyboard, and what it does. */
export interface Letter {
  /** As `KeyboardEvent.key` tells it; letters small. */
  readonly keys: readonly string[];
  /** As it stands in the list; the keys where it is left out. */
  readonly shown?: string;
  readonly does: string;
  /** Where it works: everywhere but in fields, or only where the curves have the focus; those of the review are told apart. */
  readonly on: "page" | "review" | "curves";
  readonly hasShift?: boolean;
  /** @param goesOn whether the key is being held down */
  act(key: string, goesOn: boolean, isFine: boolean): void;
}

/** The keyboard: what each key does, and the list of them. */
export class Letters {
  private readonly letters: readonly Letter[];
  private readonly dialog = byId<HTMLDialogElement>("letters");
  private readonly everywhere = el("input", { type: "checkbox", checked: true });

  constructor(letters: readonly Letter[]) {
    this.letters = letters;
    this.write();
    document.addEventListener("keydown", (event) => this.pressed(event));
  }

  readonly show = (): void => {
    if (this.dialog.open) this.dialog.close();
    else this.dialog.showModal();
  };

  private pressed(event: KeyboardEvent): void {
    if (this.dialog.open || event.defaultPrevented) return;
    const target = event.composedPath()[0] as HTMLElement;
    if (target.matches("input:not([type=checkbox], [type=radio], [type=range]), select, textarea")) return;
    const isOnCurves = target.id === "curves";
    if (!isOnCurves && !this.everywhere.checked) return;
    const isCommand = event.ctrlKey || event.metaKey;
    const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
    const letter = this.letters.find(
      ({ keys, on, hasShift }) =>
        keys.includes(isCommand ? `Ctrl+${event.shiftKey ? "Shift+" : ""}${key}` : key) &&
        (on !== "curves" || isOnCurves) &&
        (hasShift === undefined || hasShift === event.shiftKey),
    );
    // What a button or a field of choices does with a key by itself stays so.
    if (letter === undefined) return;
    if (!isOnCurves && (key === "Enter" || key === " ")) return;
    event.preventDefault();
    letter.act(key, event.repeat, event.altKey);
  }

  private write(): void {
    const table = (caption: string, on: Letter["on"]) =>
      el(
        "table",
        {},
        el("caption", {}, caption),
        el(
          "tbody",
          {},
          ...this.letters
            .filter((letter) => letter.on === on)
            .map(({ keys, shown, does }) =>
              el(
                "tr",
                {},
                el("th", { scope: "row" }, shown ?? keys.map(upper).join(", ")),
                el("td", {}, does),
              ),
            ),
        ),
      );
    this.dialog.append(
      el("h2", { id: "letters-head", tabindex: -1, autofocus: true }, "Keys"),
      el(
        "div",
        { class: "tables" },
        table("Everywhere but in fields", "page"),
        table("Remarks and notes, everywhere too", "review"),
        table("On the curves", "curves"),
      ),
      el("p", {}, el("label", {}, this.everywhere, " letters work everywhere, not on the curves alone")),
      el(
        "p",
        { class: "quiet" },
        "With the pointer: drag keys, handles, or a box around keys; with Shift, add to what is chosen, or move one way only. A double click adds a key. The wheel with Ctrl goes closer, with Shift along the shot.",
      ),
      button("Close", () => this.dialog.close()),
    );
  }
}

const upper = (key: string) => (key.length === 1 ? key.toUpperCase() : key);
