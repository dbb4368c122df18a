import type { Actions } from "./actions.ts";
import type { Desk } from "./desk.ts";
import type { ChannelsPane } from "./panes/channels-pane.ts";
import type { CurvesPane } from "./panes/curves-pane.ts";
import { byId } from "./panes/element.ts";
import type { KeyPane } from "./panes/key-pane.ts";
import type { Letter } from "./panes/letters.ts";
import type { MotionPane } from "./panes/motion-pane.ts";
import type { NotesPane } from "./panes/notes-pane.ts";
import type { Reviewing } from "./reviewing.ts";

/** What the letters work on. */
export interface Panes {
  readonly curves: CurvesPane;
  readonly notes: NotesPane;
  readonly channels: ChannelsPane;
  readonly key: KeyPane;
  readonly motion: MotionPane;
  readonly reviewing: Reviewing;
  /** Shows the list of keys. */
  showLetters(): void;
}

/** How much closer a step goes. */
const closer = 1.5;

/** What each key of the keyboard does. */
export function lettersOf(desk: Desk, actions: Actions, panes: Panes): readonly Letter[] {
  const page = (keys: readonly string[], does: string, act: Letter["act"], shown?: string): Letter => {
    return { keys, does, on: "page", act, ...(shown === undefined ? {} : { shown }) };
  };
  return [
    page(["n"], "next note", () => stepNote(desk, actions, panes, 1)),
    page(["p"], "note before", () => stepNote(desk, actions, panes, -1)),
    page(["m"], "plays the motion, or stops it", () => panes.motion.toggle()),
    page(["o"], "a frame on", () => actions.stepFrame(1)),
    page(["b"], "a frame back", () => actions.stepFrame(-1)),
    page(["c"], "goes to the curves", () => byId("curves").focus()),
    page(["l"], "goes to the channels", () => panes.channels.focus()),
    page(["f"], "looks for a fix of the note", () => panes.notes.chosen?.findFix()),
    page(["w"], "says that the note is meant", () => panes.notes.chosen?.openWaiver(true)),
    page(["a"], "adds a key at the frame", () => void actions.add(desk.frame)),
    page(["e"], "chooses the keys at the frame, of all channels shown", () => actions.pickPose()),
    page(["Delete", "Backspace"], "takes the chosen keys out", () => void actions.remove(), "Delete"),
    page(["+", "="], "closer", () => zoom(desk, closer), "+"),
    page(["-"], "farther", () => zoom(desk, 1 / closer), "−"),
    page(["0"], "the whole shot", () => {
      desk.view.showAll();
      desk.bus.tell("view");
    }),
    page(["v"], "fits the curves into their heights", () => panes.curves.fit()),
    page(["u", "Ctrl+z"], "undoes", () => void actions.undo(), "U, Ctrl+Z"),
    page(["r", "Ctrl+Shift+z", "Ctrl+y"], "does again", () => void actions.redo(), "R, Ctrl+Y"),
    page(["s", "Ctrl+s"], "saves", () => void actions.save(), "S, Ctrl+S"),
    page(["k", "?"], "shows these keys", () => panes.showLetters()),
    page(["Escape"], "lets go of what is dragged or chosen", () => void letGo(desk, panes), "Esc"),
    ...ofReview(panes),
    ...onCurves(desk, actions, panes),
  ];
}

function ofReview({ reviewing, notes }: Panes): readonly Letter[] {
  const on = (
    keys: readonly string[],
    shown: string,
    does: string,
    act: Letter["act"],
    hasShift?: boolean,
  ): Letter => {
    return { keys, shown, does, on: "review", act, ...(hasShift === undefined ? {} : { hasShift }) };
  };
  return [
    on(["t"], "T", "a remark at this frame, for the part under the pointer or that of what is chosen", () =>
      reviewing.add(),
    ),
    on(
      ["d"],
      "D",
      "draws a line for the remark that is chosen, or for a new one",
      () => void reviewing.draw(),
    ),
    on(["j"], "J", "next remark", () => reviewing.step(1, () => notes.chosenRemark?.focus()), false),
    on(["j"], "Shift J", "remark before", () => reviewing.step(-1, () => notes.chosenRemark?.focus()), true),
    on(["x"], "X", "marks the remark as done, or as still open", () => reviewing.toggleDone()),
    on(["z"], "Z", "makes the remark's last line the path that its part is to take", () =>
      reviewing.toggleTarget(),
    ),
    on(["y"], "Y", "keeps the note: it stands", () => reviewing.toggleKept()),
    on(["q"], "Q", "rewords the remark, or the note", () => {
      if (notes.chosenRemark !== null) notes.chosenRemark.openRewording(true);
      else notes.chosen?.openRewording();
    }),
    on(
      ["1", "2", "3", "4"],
      "1 to 4",
      "weighs the remark or the note: must, should, could; 4 says of a remark to keep it",
      (key) => reviewing.weigh(Number(key) - 1),
    ),
    on([","], ",", "puts it a place higher on the list", () => reviewing.place(-1)),
    on(["."], ".", "puts it a place lower", () => reviewing.place(1)),
  ];
}

function onCurves(desk: Desk, actions: Actions, { curves, key: fields }: Panes): readonly Letter[] {
  const on = (
    keys: readonly string[],
    shown: string,
    does: string,
    act: Letter["act"],
    hasShift?: boolean,
  ): Letter => {
    return { keys, shown, does, on: "curves", act, ...(hasShift === undefined ? {} : { hasShift }) };
  };
  const move = (frames: number, steps: number, goesOn: boolean, isFine: boolean) => {
    const { part } = curves.shown;
    const values =
      steps === 0 ? 0 : steps * curves.valueStep(desk.picked.lead?.name ?? "") * (isFine ? 0.1 : 1);
    if (part === "key") actions.nudge(frames, values, goesOn);
    else actions.pull(part, frames * (isFine ? 0.1 : 1), values, goesOn);
  };
  return [
    on(["ArrowLeft"], "←", "key before", () => actions.stepKey(-1), false),
    on(["ArrowRight"], "→", "key behind", () => actions.stepKey(1), false),
    on(["ArrowUp"], "↑", "channel above", () => actions.stepChannel(-1), false),
    on(["ArrowDown"], "↓", "channel below", () => actions.stepChannel(1), false),
    on(
      ["ArrowLeft"],
      "Shift ←",
      "moves the chosen keys a frame back",
      (_, on, fine) => move(-1, 0, on, fine),
      true,
    ),
    on(["ArrowRight"], "Shift →", "moves them a frame on", (_, on, fine) => move(1, 0, on, fine), true),
    on(
      ["ArrowUp"],
      "Shift ↑",
      "raises them; with Alt, by a tenth of that",
      (_, on, fine) => move(0, 1, on, fine),
      true,
    ),
    on(["ArrowDown"], "Shift ↓", "lowers them", (_, on, fine) => move(0, -1, on, fine), true),
    on(["h"], "H", "lets the arrows with Shift move the key, its handle before, its handle behind", () =>
      curves.setPart(nextPart(desk, curves)),
    ),
    on(["g"], "G", "gives the key handles", () => actions.giveHandles()),
    on(["i"], "I", "lets the curve run on otherwise: step, linear, smooth, bezier, cubic", () =>
      actions.runAs(),
    ),
    on(["Enter"], "Enter", "goes to the key's numbers", () => fields.focus()),
  ];
}

function nextPart(desk: Desk, curves: CurvesPane): "key" | "in" | "out" {
  const lead = desk.pickedKeys().at(-1);
  const parts = (["key", "in", "out"] as const).filter(
    (part) => part === "key" || (lead !== undefined && curves.hasHandle(lead, part)),
  );
  return parts[(parts.indexOf(curves.shown.part) + 1) % parts.length];
}

function stepNote(desk: Desk, actions: Actions, panes: Panes, by: 1 | -1): void {
  actions.stepNote(by);
  // Whoever walks through the notes by letters has the focus where the note's buttons are.
  if (document.activeElement?.id !== "curves") panes.notes.chosen?.focus();
  if (desk.notes.all.length === 0) desk.say("There are no notes.");
}

async function letGo(desk: Desk, panes: Panes): Promise<void> {
  if (panes.motion.dropLine()) return;
  if (await panes.curves.cancel()) return;
  if (panes.curves.shown.part !== "key") panes.curves.setPart("key");
  else if (desk.picked.all.length > 0) desk.pick([]);
  else desk.choose(null);
}

function zoom(desk: Desk, times: number): void {
  const { first, last } = desk.view;
  const isSeen = first <= desk.frame && desk.frame <= last;
  desk.view.zoom(times, isSeen ? desk.frame : (first + last) / 2);
  desk.bus.tell("view");
}

/** What the buttons over the curves do. */
export function boardTools(
  desk: Desk,
  { curves }: Panes,
): readonly (readonly [string, string, () => void])[] {
  return [
    ["Closer", "+", () => zoom(desk, closer)],
    ["Farther", "-", () => zoom(desk, 1 / closer)],
    [
      "Whole shot",
      "0",
      () => {
        desk.view.showAll();
        desk.bus.tell("view");
      },
    ],
    ["Fit heights", "V", () => curves.fit()],
  ];
}
