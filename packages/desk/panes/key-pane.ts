import type { Interpolation } from "@keyside/core/curves";
import type { Actions } from "../actions.ts";
import { modeOf, type Side } from "../curves/handles.ts";
import { handleFrom, ways } from "../curves/key-edits.ts";
import type { Desk } from "../desk.ts";
import { button, byId, el, setText } from "./element.ts";

/** The numbers of the key that leads, to be read and written; and what can be done to the keys that are chosen. */
export class KeyPane {
  private readonly desk: Desk;
  private readonly actions: Actions;
  private readonly place = byId<HTMLFormElement>("key");
  private readonly name = el("p", { class: "key-name" });
  private readonly frame = el("input", { type: "number", step: "1", id: "key-frame" });
  private readonly value = el("input", { type: "number", step: "any", id: "key-value" });
  private readonly way = el("select", { id: "key-way" });
  private readonly handles = el("span", { class: "handle-fields" });
  private readonly fields: Readonly<Record<Side, readonly [HTMLInputElement, HTMLInputElement]>>;
  private readonly give: HTMLButtonElement;
  private readonly ofKey: HTMLElement;

  constructor(desk: Desk, actions: Actions) {
    [this.desk, this.actions] = [desk, actions];
    this.way.append(...ways.map((way) => new Option(way, way)));
    this.fields = { in: this.handleFields("in", "before"), out: this.handleFields("out", "behind") };
    this.give = button("Give it handles", () => actions.giveHandles());
    this.ofKey = el(
      "div",
      { class: "row" },
      el("label", {}, "Frame ", this.frame),
      el("label", {}, "Value ", this.value),
      el("label", {}, "Runs on ", this.way),
      this.give,
      this.handles,
    );
    this.place.append(
      this.name,
      this.ofKey,
      el(
        "div",
        { class: "row" },
        button("Add a key here", () => void actions.add(desk.frame), { id: "add", "aria-keyshortcuts": "A" }),
        button("Take out", () => void actions.remove(), { id: "remove", "aria-keyshortcuts": "Delete" }),
        button("Keys at this frame", () => actions.pickPose(), { id: "pose", "aria-keyshortcuts": "E" }),
      ),
    );
    this.place.addEventListener("submit", (event) => event.preventDefault());
    this.frame.addEventListener("change", () => this.moveBy());
    this.value.addEventListener("change", () => this.moveBy());
    this.way.addEventListener("change", () => actions.runAs(this.way.value as Interpolation));
    desk.bus.on(["picked", "curves", "shot"], () => this.refresh());
  }

  /** Puts the hand into the first field. */
  focus(): void {
    if (!this.ofKey.hidden) this.frame.focus();
  }

  private moveBy(): void {
    const lead = this.desk.pickedKeys().at(-1);
    const [frame, value] = [this.frame.valueAsNumber, this.value.valueAsNumber];
    if (lead === undefined || Number.isNaN(frame)) return;
    const { curve, key } = lead;
    const rise = curve.width === 1 && !Number.isNaN(value) ? value - curve.values[key] : 0;
    this.actions.nudge(frame - curve.frames[key], rise, false);
  }

  private handleFields(side: Side, where: string): readonly [HTMLInputElement, HTMLInputElement] {
    const make = (what: string) => {
      const input = el("input", {
        ...{ type: "number", step: "any", id: `handle-${side}-${what}` },
        "aria-label": `Handle ${where}: ${what}`,
      });
      input.addEventListener("change", () => this.pullTo(side));
      return input;
    };
    const [frames, value] = [make("frames"), make("value")];
    this.handles.append(
      el("span", { class: "handle", "data-side": side }, `Handle ${where} `, frames, " frames, ", value),
    );
    return [frames, value];
  }

  private pullTo(side: Side): void {
    const lead = this.desk.pickedKeys().at(-1);
    const now = lead === undefined ? null : handleFrom(lead.curve, lead.key, side);
    const [frames, value] = this.fields[side].map(({ valueAsNumber }) => valueAsNumber);
    if (now === null || Number.isNaN(frames) || Number.isNaN(value)) return;
    this.actions.pull(side, frames - now[0], value - now[1], false);
  }

  private refresh(): void {
    const { desk } = this;
    const keys = desk.pickedKeys();
    const lead = keys.at(-1);
    this.ofKey.hidden = lead === undefined;
    byId<HTMLButtonElement>("remove").disabled = lead === undefined;
    byId<HTMLButtonElement>("add").disabled = desk.shown.length === 0;
    if (lead === undefined) {
      setText(this.name, "No key is chosen.");
      return;
    }
    const { curve, key } = lead;
    const { title, unit } = desk.wordsOf(`${curve.node} ${curve.channel}`);
    const counted = keys.length === 1 ? "Key" : `${keys.length} keys; the last`;
    setText(this.name, `${counted} of ${title}${unit === "" ? "" : `, ${unit}`}`);
    show(this.frame, curve.frames[key]);
    this.value.disabled = curve.width === 4;
    show(this.value, curve.width === 1 ? curve.values[key] : Number.NaN);
    if (document.activeElement !== this.way) this.way.value = modeOf(curve, key);
    let isHandled = false;
    for (const side of ["in", "out"] as const) {
      const handle = handleFrom(curve, key, side);
      isHandled ||= handle !== null;
      const place = this.handles.querySelector<HTMLElement>(`[data-side=${side}]`);
      if (place !== null) place.hidden = handle === null;
      this.fields[side].forEach((field, n) => {
        show(field, handle?.[n] ?? Number.NaN);
      });
    }
    this.give.hidden = isHandled || curve.width === 4 || curve.frames.length < 2;
  }
}

/** Shows a number, but not while somebody writes another one. */
function show(field: HTMLInputElement, value: number): void {
  if (document.activeElement === field && field.dataset["shown"] === String(value)) return;
  field.dataset["shown"] = String(value);
  field.value = Number.isNaN(value) ? "" : String(Math.round(value * 1e6) / 1e6);
}
