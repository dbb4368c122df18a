import type { Desk } from "../desk.ts";
import { byId, el, setText } from "./element.ts";

/** Which channels lie on the desk: all of the shot's, to be ticked, narrowed by what is typed. */
export class ChannelsPane {
  private readonly desk: Desk;
  private readonly place = byId<HTMLElement>("channels");
  private readonly filter = el("input", { type: "search", id: "channel-filter", autocomplete: "off" });
  private readonly list = el("ul", { class: "channel-list" });
  private readonly held = el("input", { type: "checkbox", id: "hold" });
  private readonly count = el("span", { class: "quiet" });
  private readonly boxes = new Map<string, HTMLInputElement>();

  constructor(desk: Desk) {
    this.desk = desk;
    this.place.append(
      el("h2", { id: "channels-head" }, "Channels ", this.count),
      el(
        "div",
        { class: "row" },
        el("label", {}, "Narrow by ", this.filter),
        el("label", {}, this.held, " notes leave these as they are"),
      ),
      this.list,
    );
    this.filter.addEventListener("input", () => this.narrow());
    this.held.addEventListener("change", () => {
      desk.isHeld = this.held.checked;
    });
    desk.bus.on(["shot"], () => this.build());
    desk.bus.on(["curves"], () => this.tick());
  }

  focus(): void {
    this.filter.focus();
  }

  private build(): void {
    const { desk, list, boxes } = this;
    boxes.clear();
    const items = [...desk.channels.all].map(({ name, count }) => {
      const box = el("input", { type: "checkbox" });
      boxes.set(name, box);
      box.addEventListener("change", () => {
        desk.show(box.checked ? [...desk.shown, name] : desk.shown.filter((other) => other !== name));
      });
      const { title } = desk.wordsOf(name);
      const keys = `${count} ${count === 1 ? "key" : "keys"}`;
      return el("li", {}, el("label", {}, box, ` ${title} `, el("span", { class: "quiet" }, keys)));
    });
    list.replaceChildren(...items);
    this.tick();
    this.narrow();
  }

  private tick(): void {
    const { desk, boxes } = this;
    for (const box of boxes.values()) box.checked = false;
    for (const name of desk.shown) {
      const box = boxes.get(name);
      if (box !== undefined) box.checked = true;
    }
    setText(this.count, `${desk.shown.length} of ${desk.channels.size}`);
  }

  private narrow(): void {
    const words = this.filter.value.toLowerCase().split(/\s+/).filter(Boolean);
    for (const item of this.list.children) {
      const text = item.textContent?.toLowerCase() ?? "";
      (item as HTMLElement).hidden = !words.every((word) => text.includes(word));
    }
  }
}
