import type { Curve } from "@keyside/core/curves";
import type { Actions } from "../actions.ts";
import { type Drag, HandleDrag, hasHandle, KeyDrag } from "../curves/drag.ts";
import type { Side } from "../curves/handles.ts";
import { type Hit, hitAt } from "../curves/hit.ts";
import { Lanes, laneY } from "../curves/lanes.ts";
import { firstFrom, type Pick } from "../curves/picked.ts";
import type { Desk } from "../desk.ts";
import { drawBoard, type Shown } from "../draw/board.ts";
import { palette } from "../draw/palette.ts";
import { Surface } from "../draw/surface.ts";
import { numberText } from "../state/words.ts";
import { byId, setText } from "./element.ts";
import { zoomByWheel } from "./strip-pane.ts";

/** Pixels within which a pointer takes hold, of a mouse and of a finger. */
const reach = { mouse: 10, other: 22 } as const;
/** Pixels that a pointer moves before it drags. */
const threshold = 3;

/** What a pointer that is down does. */
interface Hold {
  readonly x: number;
  readonly y: number;
  readonly hit: Hit | null;
  readonly isAdding: boolean;
  drag: Drag | null;
  isMoving: boolean;
}

/** The curves: lanes with keys and handles, to be pointed at. */
export class CurvesPane {
  readonly lanes = new Lanes();
  readonly shown: Shown;
  private readonly desk: Desk;
  private readonly actions: Actions;
  private readonly place = byId<HTMLElement>("curves");
  private readonly tall = this.place.querySelector<HTMLElement>(".tall") as HTMLElement;
  private readonly here = this.place.querySelector<HTMLElement>(".here") as HTMLElement;
  private readonly surface: Surface;
  private hold: Hold | null = null;

  constructor(desk: Desk, actions: Actions) {
    [this.desk, this.actions] = [desk, actions];
    this.shown = {
      ...{ picked: desk.picked, note: null, part: "key" },
      box: { x: 0, y: 0, width: 0, height: 0 },
    };
    this.surface = new Surface(this.place.querySelector("canvas") as HTMLCanvasElement, (pen, _, height) => {
      const from = this.place.scrollTop;
      this.lanes.update(desk.view, from, from + height);
      drawBoard(pen, this.lanes, desk.view, this.shown, palette(), from, from + height);
    });
    // Arrows and letters are for it, not for what reads the page.
    this.place.setAttribute("role", "application");
    this.place.tabIndex = 0;
    new ResizeObserver(() => this.layOut()).observe(this.place);
    desk.bus.on(["curves", "shot"], () => this.takeCurves());
    desk.bus.on(["view"], () => this.refresh());
    desk.bus.on(["picked", "chosen"], () => {
      this.shown.note = desk.seen;
      this.surface.redraw();
      this.describe();
    });
    desk.bus.on(["frame", "view"], () => this.tellFrame());
    this.place.addEventListener("scroll", () => this.surface.redraw());
    this.listen();
    zoomByWheel(this.place, desk);
  }

  /** Sets the scale of each lane for what is seen of it. */
  fit(): void {
    this.lanes.fit();
    this.surface.redraw();
  }
  repaint(): void {
    this.surface.redraw();
  }

  /** Which part of the key that leads is moved by arrows. */
  setPart(part: Shown["part"]): void {
    this.shown.part = part;
    this.surface.redraw();
    this.describe();
  }

  /** Whether a key has a handle on a side. */
  hasHandle({ curve, key }: { readonly curve: Curve; readonly key: number }, side: Side): boolean {
    return hasHandle(curve, curve.frames[key], side);
  }

  /** A hundredth or so of what a lane's height shows, as a round number: by so much an arrow changes a value. */
  valueStep(name: string): number {
    const lane = this.lanes.find(name);
    if (lane === undefined) return 1;
    const each = (lane.scale.high - lane.scale.low) / Math.max(1, lane.height);
    return 10 ** Math.round(Math.log10(each * 2));
  }

  private takeCurves(): void {
    const { desk, lanes } = this;
    const known = desk.shown.flatMap((name) => {
      const curve = desk.curve(name);
      if (curve === null) return [];
      const { title, unit } = desk.wordsOf(name);
      const { node, channel } = curve;
      return [{ name, node, channel, unit, title: unit === "" ? title : `${title}, ${unit}`, curve }];
    });
    lanes.show(known);
    this.shown.note = desk.seen;
    this.layOut();
  }

  private layOut(): void {
    const { place, lanes, tall, surface } = this;
    const [width, height] = [place.clientWidth, place.clientHeight];
    if (width === 0) return;
    this.desk.view.resize(width);
    lanes.arrange(height);
    tall.style.height = `${lanes.height}px`;
    surface.resize(width, height);
    this.refresh();
  }

  private refresh(): void {
    this.surface.redraw();
    this.tellFrame();
    this.describe();
  }

  private tellFrame(): void {
    this.here.style.transform = `translateX(${this.desk.view.xOf(this.desk.frame)}px)`;
  }

  /** Says in words which key is chosen. */
  private describe(): void {
    const { desk, place, shown } = this;
    const lead = desk.pickedKeys().at(-1);
    const { unit, title } = desk.wordsOf(desk.picked.lead?.name ?? "");
    const parts = { key: "", in: ", its handle before", out: ", its handle behind" } as const;
    const words =
      lead === undefined
        ? "no key is chosen"
        : `key of ${title} at frame ${numberText(lead.curve.frames[lead.key])}${
            lead.curve.width === 1 ? `, ${numberText(lead.curve.values[lead.key])} ${unit}` : ""
          }${parts[shown.part]}`;
    const count = desk.picked.all.length;
    const label = count > 1 ? `${count} keys are chosen; the last: ${words}` : words;
    place.setAttribute("aria-label", `Curves: ${label}`);
    setText(
      byId("under"),
      desk.shown.length === 0
        ? "Choose a note, or channels, to see curves."
        : `${label[0].toUpperCase()}${label.slice(1)}.`,
    );
  }

  private at(event: PointerEvent | MouseEvent): readonly [number, number] {
    const box = this.place.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top + this.place.scrollTop];
  }

  private hit(event: PointerEvent): Hit | null {
    const [x, y] = this.at(event);
    const within = event.pointerType === "mouse" ? reach.mouse : reach.other;
    return hitAt(this.lanes, this.desk.view, this.desk.picked, x, y, within);
  }

  private listen(): void {
    const { place, desk, actions } = this;
    place.addEventListener("pointerdown", (event) => this.down(event));
    place.addEventListener("pointermove", (event) => this.moved(event));
    place.addEventListener("pointerup", (event) => this.up(event));
    place.addEventListener("pointercancel", () => void this.cancel());
    place.addEventListener("dblclick", (event) => {
      const [x, y] = this.at(event);
      const lane = this.lanes.at(y);
      if (lane !== null) void actions.add(desk.view.frameAt(x), lane.name);
    });
  }

  private down(event: PointerEvent): void {
    if (event.button !== 0 || this.hold !== null || this.desk.sender.isDragging) return;
    const [x, y] = this.at(event);
    const hit = this.hit(event);
    this.place.setPointerCapture(event.pointerId);
    this.hold = { x, y, hit, isAdding: event.shiftKey, drag: null, isMoving: false };
    if (hit === null || hit.part === "lane") return;
    const pick: Pick = { name: hit.lane.name, frame: hit.lane.curve.frames[hit.key] };
    if (hit.part !== "key") {
      this.desk.pick([...this.desk.picked.all.filter((other) => other !== pick), pick]);
      this.setPart(hit.part);
      return;
    }
    this.setPart("key");
    const { picked } = this.desk;
    if (event.shiftKey) picked.toggle(pick);
    else if (picked.has(pick.name, pick.frame)) {
      // The key under the hand leads.
      picked.toggle(pick);
      picked.toggle(pick);
    } else picked.set([pick]);
    this.desk.bus.tell("picked");
  }

  private moved(event: PointerEvent): void {
    const { hold } = this;
    if (hold === null) {
      const hit = this.hit(event);
      this.place.dataset["over"] = hit === null ? "nothing" : hit.part;
      return;
    }
    const [x, y] = this.at(event);
    if (!hold.isMoving && Math.hypot(x - hold.x, y - hold.y) < threshold) return;
    if (!hold.isMoving) this.beginMoving(hold);
    hold.isMoving = true;
    if (hold.drag === null) {
      Object.assign(this.shown.box, { x: hold.x, y: hold.y, width: x - hold.x, height: y - hold.y });
      this.surface.redraw();
      return;
    }
    const { lane } = hold.hit as Hit;
    const { view } = this.desk;
    const value = (lane.scale.high - lane.scale.low) / lane.height;
    let [frames, values] = [(x - hold.x) / view.scale, (hold.y - y) * value];
    const isKey = hold.drag instanceof KeyDrag;
    // With Shift a key moves one way only: that in which it has gone farther.
    if (event.shiftKey && isKey) {
      if (Math.abs(x - hold.x) >= Math.abs(y - hold.y)) values = 0;
      else frames = 0;
    }
    hold.drag.to(frames, values, event.shiftKey);
    if (hold.drag instanceof KeyDrag) this.desk.picked.set(hold.drag.picks);
    this.desk.showDrag(hold.drag);
    this.desk.sender.moved();
    this.describe();
  }

  private beginMoving(hold: Hold): void {
    const { hit } = hold;
    if (hit === null || hit.part === "lane") return;
    if (hit.part === "key") {
      const keys = this.desk.pickedKeys();
      if (keys.length === 0) return;
      hold.drag = new KeyDrag(keys);
    } else hold.drag = new HandleDrag(hit.lane.curve, hit.key, hit.part);
    this.desk.sender.begin(hold.drag);
  }

  private up(event: PointerEvent): void {
    const { hold, desk } = this;
    this.hold = null;
    if (hold === null) return;
    if (hold.drag !== null) {
      void desk.sender.end().then(() => desk.endDrag());
      return;
    }
    if (hold.hit !== null && hold.hit.part !== "lane") return;
    if (hold.isMoving) this.pickInBox(hold);
    else {
      if (!hold.isAdding) desk.pick([]);
      const frame = Math.round(desk.view.frameAt(this.at(event)[0]));
      const [first, last] = desk.shot?.range ?? [frame, frame];
      desk.setFrame(Math.min(last, Math.max(first, frame)));
    }
  }

  /** Lets go of a drag: keys go back to where they were taken hold of. */
  async cancel(): Promise<boolean> {
    const { hold, desk } = this;
    if (hold === null) return false;
    this.hold = null;
    Object.assign(this.shown.box, { width: 0, height: 0 });
    this.surface.redraw();
    if (hold.drag === null) return true;
    hold.drag.to(0, 0, false);
    if (hold.drag instanceof KeyDrag) desk.picked.set(hold.drag.picks);
    desk.showDrag(hold.drag);
    await desk.sender.end();
    desk.endDrag();
    return true;
  }

  private pickInBox(hold: Hold): void {
    const { box } = this.shown;
    const [left, right] = [Math.min(box.x, box.x + box.width), Math.max(box.x, box.x + box.width)];
    const [top, bottom] = [Math.min(box.y, box.y + box.height), Math.max(box.y, box.y + box.height)];
    const { view, picked } = this.desk;
    const picks: Pick[] = hold.isAdding ? [...picked.all] : [];
    for (const lane of this.lanes.all) {
      const { frames, values, width } = lane.curve;
      for (let key = firstFrom(frames, view.frameAt(left)); key < frames.length; key++) {
        if (view.xOf(frames[key]) > right) break;
        const y = laneY(lane, values[key * width]);
        if (y < top || y > bottom) continue;
        picks.push({ name: lane.name, frame: frames[key] });
      }
    }
    Object.assign(box, { width: 0, height: 0 });
    this.desk.pick(picks);
  }
}
