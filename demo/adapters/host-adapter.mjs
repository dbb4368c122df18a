// @ts-check
/**
 * Wires Keyside into an imaginary tool: its key events become edits, its notes become lines on the stage.
 * `node demo/adapters/host-adapter.mjs node packages/server/bin/keyside.js` plays a short story.
 */
import { FeedClient, moveKey, removeKey, setKey, startFeed } from "@keyside/adapters";
import { WebSocket } from "ws";
import { Stage } from "./imaginary-host.mjs";

const channels = /** @type {const} */ ({
  "slide x": "translation.x",
  "slide y": "translation.y",
  "turn x": "rotation.x",
});
const firstFrame = 1;
const mostRestarts = 3;

class Adapter {
  restarts = 0;

  /** @param {Stage} stage @param {string[]} command */
  constructor(stage, command) {
    this.stage = stage;
    this.command = command;
  }

  async open() {
    this.feed = await startFeed(this.command);
    this.client = await FeedClient.connect(new WebSocket(this.feed.url), this.feed.token, {
      callbacks: "poll",
      onGone: (client, why) => {
        this.gone(client, why).catch((error) => this.stage.show([`No notes: ${error.message}`]));
      },
    });
    this.shot = await this.client.openShot("stage", {
      documentNow: () => this.document(),
      onChange: (shot) => this.stage.show(shot.notes.map(({ check, message }) => `${check}: ${message}`)),
      // The feed's shot is no longer the stage's: it gets the stage as it is.
      onRefused: (shot) => shot.replace(this.document()).catch(() => {}),
    });
    this.stage.listeners.push((...event) => this.keyed(...event));
    this.stage.eachRound.push(() => this.client?.poll());
  }

  /**
   * A key event of the tool, also of its undo.
   * @param {string} event @param {string} part @param {string} dial @param {number} tick @param {number} [value]
   */
  keyed(event, part, dial, tick, value = 0) {
    const channel = channels[/** @type {keyof typeof channels} */ (dial)];
    const frame = tick + firstFrame;
    if (event === "placed") this.shot?.queue([setKey(part, channel, frame, inDocument(dial, value))]);
    else if (event === "shifted") this.shot?.queue([moveKey(part, channel, frame, value + firstFrame)]);
    else this.shot?.queue([removeKey(part, channel, frame)]);
  }

  /** @param {FeedClient} client @param {string} why */
  async gone(client, why) {
    this.stage.show([`No notes: ${why}`]);
    if (++this.restarts > mostRestarts) return;
    this.feed = await startFeed(this.command);
    await client.restart(new WebSocket(this.feed.url), this.feed.token);
  }

  /** @returns {{ document: import("@keyside/core").CurveDocument }} */
  document() {
    const parts = [...new Set([...this.stage.dials.keys()].map((name) => name.split("/")[0] ?? ""))];
    return {
      document: {
        format: "keyside.curves",
        version: 1,
        shot: { frameRate: 24, range: [firstFrame, firstFrame + 39] },
        space: { metresPerUnit: 1 },
        nodes: parts.sort().map((id) => ({ id })),
        curves: [...this.stage.dials].flatMap(([name, keys]) => {
          const [node = "", dial = ""] = name.split("/");
          const channel = channels[/** @type {keyof typeof channels} */ (dial)];
          const ticks = [...keys.keys()].sort((a, b) => a - b);
          if (ticks.length === 0) return [];
          return [
            {
              node,
              channel,
              keys: ticks.map((tick) => [tick + firstFrame, inDocument(dial, keys.get(tick) ?? 0)]),
            },
          ];
        }),
      },
    };
  }

  async close() {
    this.client?.close();
    await this.feed?.stop();
  }
}

/** Turns are radians on the stage, and degrees in the document. @param {string} dial @param {number} value */
function inDocument(dial, value) {
  return dial.startsWith("turn") ? (value * 180) / Math.PI : value;
}

const stage = new Stage();
for (let tick = 0; tick < 40; tick++) {
  const share = Math.min(Math.max((tick - 5) / 24, 0), 1);
  stage.place("lamp", "slide x", tick, share * share * (3 - 2 * share));
}
const command = process.argv.slice(2);
const adapter = new Adapter(stage, command.length > 0 ? command : ["keyside"]);
await adapter.open();

/** The tool's main loop, until something is seen. @param {() => boolean} holds */
async function play(holds) {
  const until = performance.now() + 60_000;
  while (!holds() && performance.now() < until) {
    stage.round();
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  console.log(holds());
}
const hasPop = () => stage.lines.some((line) => line.startsWith("pop: "));

await play(() => adapter.shot?.isSettled === true && !hasPop());
// A drag: many events of one key, which the queue folds.
for (let step = 0; step < 100; step++) {
  stage.place("lamp", "slide x", 17, step / 50);
  stage.round();
}
await play(hasPop);
adapter.feed?.process.kill("SIGKILL");
await play(() => stage.lines[0]?.startsWith("No notes: ") === true);
await play(hasPop);
// Undo is the tool's: it tells the opposite by the same events.
for (let step = 0; step < 100; step++) stage.undo();
await play(() => adapter.shot?.isSettled === true && !hasPop());
await adapter.close();
