/** What tests/bench/desk.mjs measures, in the browser: it is bundled and run there. */
import { FramesView } from "../../packages/desk/dist/curves/frames-view.js";
import { Lanes } from "../../packages/desk/dist/curves/lanes.js";
import { Picked } from "../../packages/desk/dist/curves/picked.js";
import { rowsOf } from "../../packages/desk/dist/curves/strip-rows.js";
import { drawBoard } from "../../packages/desk/dist/draw/board.js";
import { drawStrip, leastWidth } from "../../packages/desk/dist/draw/strip.js";

const [nodes, frames, width, height] = [100, 4000, 1200, 900];
const colours = Object.fromEntries(
  "paper card ink soft line faint path after on pen broken major minor polish"
    .split(" ")
    .map((name, i) => [name, `hsl(${i * 27} 40% 40%)`]),
);

/** A channel with a key on each frame, or on every eighth with handles. */
function channel(index) {
  const every = index % 2 === 0 ? 1 : 8;
  const count = Math.floor(frames / every);
  const curve = {
    ...{ node: `node_${index}`, channel: "rotation.x", interpolation: "bezier", width: 1, ownModes: null },
    ...{ handles: null, place: null },
    frames: Float64Array.from({ length: count }, (_, i) => 1 + i * every),
    values: Float64Array.from({ length: count }, (_, i) => 30 * Math.sin(i * every * 0.05 + index)),
    modes: new Uint8Array(count).fill(every === 1 ? 1 : 3),
  };
  const { node, channel: name } = curve;
  return { name: `${node} ${name}`, node, channel: name, unit: "°", title: `${node} ${name}, °`, curve };
}

function noteAt(index) {
  const from = 1 + ((index * 37) % (frames - 60));
  const tier = ["broken", "major", "minor", "polish"][index % 4];
  const keys = [{ node: `node_${index % nodes}`, channel: "rotation.x", frame: from }];
  return { fingerprint: `${index}`, number: index + 1, tier, frames: [from, from + (index % 50)], keys };
}

function remarkAt(index) {
  const from = 1 + 331 * index;
  return { id: `r${index}`, letter: String.fromCharCode(65 + index), frames: [from, from + 40] };
}

/** Milliseconds of each drawing while the view is moved as `move` says. */
function measure(lanes, view, strip, shown, move) {
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [width, height];
  const pen = canvas.getContext("2d");
  const times = [];
  for (let round = 0; round < 240; round++) {
    move(round);
    const before = performance.now();
    lanes.update(view, 0, height);
    pen.clearRect(0, 0, width, height);
    drawStrip(pen, strip, view, colours, width, 140);
    drawBoard(pen, lanes, view, shown, colours, 0, height);
    // What the pen was told is done when a pixel is asked for: then eight pictures are paid for, and the mean is what
    // one costs.
    if (round % 8 === 0) pen.getImageData(0, 0, 1, 1);
    times.push(performance.now() - before);
  }
  return times.slice(40).sort((a, b) => a - b);
}

globalThis.benchDesk = () => {
  const lanes = new Lanes();
  lanes.show(Array.from({ length: nodes }, (_, index) => channel(index)));
  lanes.arrange(height);
  const view = new FramesView(1, frames);
  view.resize(width);
  const notes = Array.from({ length: 400 }, (_, index) => noteAt(index));
  const remarks = Array.from({ length: 12 }, (_, index) => remarkAt(index));
  const strip = {
    ...{ notes, remarks, chosen: "3", pointed: null, chosenRemark: null, range: [1, frames] },
    rows: rowsOf([...remarks, ...notes], leastWidth / view.scale, 6),
    texts: notes.map(({ number }) => String(number)),
  };
  const picked = new Picked();
  picked.set([{ name: lanes.all[1].name, frame: 9 }]);
  const shown = { picked, note: notes[3], part: "key", box: { x: 0, y: 0, width: 0, height: 0 } };
  const whole = measure(lanes, view, strip, shown, (round) => {
    view.showAll();
    // As while a key is dragged: one curve is another one.
    lanes.all[1].curve = { ...lanes.all[1].curve };
    view.changes += round % 2;
  });
  const close = measure(lanes, view, strip, shown, (round) => view.show(1 + 5 * round, 121 + 5 * round));
  return { whole, close };
};
