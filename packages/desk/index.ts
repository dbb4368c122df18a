import "@keyside/player";
import { Actions } from "./actions.ts";
import { Desk } from "./desk.ts";
import { forgetPalette } from "./draw/palette.ts";
import { boardTools, lettersOf, type Panes } from "./letters-of.ts";
import { openLink, takeToken } from "./open-link.ts";
import { Bar } from "./panes/bar.ts";
import { ChannelsPane } from "./panes/channels-pane.ts";
import { CurvesPane } from "./panes/curves-pane.ts";
import { button, byId } from "./panes/element.ts";
import { KeyPane } from "./panes/key-pane.ts";
import { Letters } from "./panes/letters.ts";
import { MotionPane } from "./panes/motion-pane.ts";
import { NotesPane } from "./panes/notes-pane.ts";
import { RemarkForm } from "./panes/remark-form.ts";
import { StripPane } from "./panes/strip-pane.ts";
import { ReviewActions } from "./review-actions.ts";
import { Reviewing } from "./reviewing.ts";
import { Moving } from "./state/moving.ts";
import { SocketWire } from "./wire.ts";

/** Begins the page: it speaks to the desk by link.ts. */
function begin(token: string): void {
  const motion = new MotionPane();
  const moving = new Moving((shot, poses) => motion.show(shot, poses));
  const desk = new Desk(
    (desk) =>
      new SocketWire(
        () => openLink(token),
        (message) => desk.hear(message),
        (isThere) => desk.connected(isThere),
      ),
    moving,
    (act) => requestAnimationFrame(act),
  );
  const actions = new Actions(desk);
  motion.follow(desk);
  const strip = new StripPane(desk, actions);
  const curves = new CurvesPane(desk, actions);
  const key = new KeyPane(desk, actions);
  const review = new ReviewActions(desk);
  const form = new RemarkForm(desk, review, (node) => void reviewing.drawForForm(node));
  const reviewing: Reviewing = new Reviewing(desk, review, form, motion);
  const notes = new NotesPane(desk, actions, review, () => void reviewing.draw());
  const channels = new ChannelsPane(desk);
  const panes: Panes = { curves, key, notes, channels, motion, reviewing, showLetters: () => letters.show() };
  const letters = new Letters(lettersOf(desk, actions, panes));
  new Bar(desk, actions, letters.show);
  byId("review-tools").append(
    button("Add a remark", () => reviewing.add(), { id: "add-remark", "aria-keyshortcuts": "T" }),
    button("Draw a line", () => void reviewing.draw(), { id: "draw-line", "aria-keyshortcuts": "D" }),
  );
  byId("board-tools").append(
    ...boardTools(desk, panes).map(([label, shortcut, act]) =>
      button(label, act, { "aria-keyshortcuts": shortcut }),
    ),
  );
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
    forgetPalette();
    strip.repaint();
    curves.repaint();
  });
  addEventListener("beforeunload", (event) => {
    if (desk.disk.isUnsaved && desk.lost !== "") event.preventDefault();
  });
}

const token = takeToken();
if (token === null) byId("name").textContent = "Open the desk by the whole address that it printed.";
else begin(token);
