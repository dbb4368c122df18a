// Latency from a key edit to its notes, through the built command over stdio: `npm run bench:feed`.
import { loadavg } from "node:os";
import { documentJsonSchema, writeDocument } from "@keyside/core";
import { getLanguageService } from "vscode-json-languageservice";
import { TextDocument } from "vscode-languageserver-textdocument";
import { FeedProcess, processorTimeOf } from "./feed-client.mjs";
import { drags } from "./feed-drags.mjs";
import { editCosts } from "./feed-edits.mjs";
import { table } from "./measure.mjs";
import { random, skeletonDocument } from "./skeleton.mjs";

const edits = Number(process.env.EDITS ?? 500);
/** Edits before those that count: a process that has just started compiles what it runs. */
const warmup = 100;
const shots = [
  {
    name: "typical shot: 60 nodes, 240 frames, a key every 8 frames",
    document: skeletonDocument({ count: 60, frames: 240, every: 8, seed: 3 }),
    every: 1,
  },
  {
    name: "dense shot: 100 nodes, 240 frames, a key on every frame",
    document: skeletonDocument({ count: 100, frames: 240, every: 1, seed: 11 }),
    // The service takes so long here that 500 edits would take many minutes.
    every: 8,
  },
];

const rows = [];
for (const { name, document, every } of shots) {
  const text = writeDocument(document);
  const keys = document.curves.reduce((sum, curve) => sum + curve.keys.length, 0);
  const runs = [await textFeed(text), await hostFeed(document), await service(text)];
  const times = runs.map(() => []);
  let edit = 0;
  // In turn, so that whatever else the machine does meets all alike.
  for (const change of editsOf(document, warmup + edits)) {
    for (const [index, run] of runs.entries()) {
      if (run.isPeer && edit % every !== 0) await run.skip(change);
      else {
        const time = await run.make(change);
        if (edit >= warmup) times[index].push(time);
      }
    }
    edit++;
  }
  const peer = times[runs.findIndex(({ isPeer }) => isPeer)];
  for (const [index, { how, stop }] of runs.entries()) {
    const of = times[index];
    const shares = [0.5, 0.95, 0.99];
    const cells = (kind) => shares.map((share) => ms(quantile(of, kind, share)));
    const ratio = (kind, share) => (quantile(peer, kind, share) / quantile(of, kind, share)).toFixed(0);
    rows.push([
      index === 0 ? `${name} (${keys} keys, ${(text.length / 1e6).toFixed(2)} MB)` : "",
      how,
      ...cells("wall"),
      ...cells("processor"),
      of === peer ? "" : `${ratio("processor", 0.5)} ×, ${ratio("processor", 0.99)} ×`,
    ]);
    await stop();
  }
}
console.log(
  `Node ${process.version}; ${edits} edits of one key each after ${warmup} that do not count, each sent when the one before was answered, the three in turn. Wall: from edit sent to notes received. Processor: what of that the main thread of who answers was on a processor; on a machine with nothing else to do the two are nearly alike.\n`,
);
const head = [
  "shot",
  "through",
  "wall p50",
  "p95",
  "p99",
  "processor p50",
  "p95",
  "p99",
  "faster at p50, p99",
];
console.log(table(head, rows));
console.log(
  `\nEdits of one key in a session, processor time (garbage collection and compiling on other threads included); load of the machine ${load()}.\n\n${editCosts()}`,
);
const loadBefore = load();
const dragged = await drags();
console.log(
  `\nDrags over the host channel, 60 edits a second; load of the machine ${loadBefore} before and ${load()} after.\n\n${dragged}`,
);

/** Mean number of processes that ran or waited for a processor in the last minute. */
function load() {
  return loadavg()[0].toFixed(1);
}

/**
 * Edits of one key each: a key at random is moved off by up to two units, and the next edit puts it back, so that the
 * shot stays what it is however many edits are made.
 */
function* editsOf(document, count) {
  const uniform = random(17);
  for (let edit = 0; edit < count; edit += 2) {
    const curve = Math.floor(uniform() * document.curves.length);
    const { node, channel, keys } = document.curves[curve];
    const key = Math.floor(uniform() * keys.length);
    const [frame, value] = keys[key];
    const moved = Math.round(100 * (value + 4 * (uniform() - 0.5))) / 100;
    yield { curve, key, before: value, value: moved, node, channel, frame };
    yield { curve, key, before: moved, value, node, channel, frame };
  }
}

/** Edits as an editor makes them: the characters of one number are replaced. */
function textChanges(text) {
  const lines = text.split("\n");
  const starts = [];
  for (const [number, line] of lines.entries()) if (/"keys": \[/.test(line)) starts.push(number);
  return ({ curve, key, frame, before, value }) => {
    const number = starts[curve] + 1 + key;
    if (!lines[number].includes(`[${frame}, ${before}`))
      throw new Error(`Line ${number + 1} holds another key.`);
    const start = lines[number].indexOf(`[${frame}, ${before}`) + `[${frame}, `.length;
    const end = start + String(before).length;
    lines[number] = lines[number].slice(0, start) + value + lines[number].slice(end);
    return {
      range: { start: { line: number, character: start }, end: { line: number, character: end } },
      text: String(value),
    };
  };
}

/** An edit's time: on the wall, and on the processor of the main thread that answers. */
async function timed(processorTime, run) {
  const before = processorTime();
  const from = performance.now();
  await run();
  const wall = performance.now() - from;
  const after = processorTime();
  return { wall, processor: after === null ? Number.NaN : after - before };
}

async function textFeed(text) {
  const feed = new FeedProcess();
  const uri = "file:///bench/shot.curves.json";
  const publish = "textDocument/publishDiagnostics";
  const capabilities = { textDocument: { publishDiagnostics: { versionSupport: true } } };
  await feed.request("initialize", { processId: null, rootUri: null, capabilities });
  feed.notify("initialized", {});
  const opened = feed.told(publish, (params) => params.version === 1);
  feed.notify("textDocument/didOpen", { textDocument: { uri, languageId: "json", version: 1, text } });
  await opened;
  const changeOf = textChanges(text);
  let version = 1;
  return {
    how: "feed, text edits",
    make(edit) {
      const contentChanges = [changeOf(edit)];
      version++;
      const judged = feed.told(publish, (params) => params.version === version);
      return timed(
        () => feed.processorTime(),
        () => {
          feed.notify("textDocument/didChange", { textDocument: { uri, version }, contentChanges });
          return judged;
        },
      );
    },
    stop: () => feed.stop(),
  };
}

async function hostFeed(document) {
  const feed = new FeedProcess();
  await feed.request("keyside/hello", { protocols: [1] });
  const opened = feed.told("keyside/notesChanged", ({ revision }) => revision === 0);
  await feed.request("keyside/openShot", { shot: "bench", document });
  await opened;
  let revision = 0;
  return {
    how: "feed, host channel",
    async make({ node, channel, frame, value }) {
      revision++;
      const judged = feed.told("keyside/notesChanged", (params) => params.revision === revision);
      const edits = [{ kind: "set", node, channel, frame, value }];
      return timed(
        () => feed.processorTime(),
        async () => {
          await Promise.all([judged, feed.request("keyside/editKeys", { shot: "bench", revision, edits })]);
        },
      );
    },
    stop: () => feed.stop(),
  };
}

/** The same text edits, validated by a general JSON language service in this process: no protocol is in its way. */
async function service(text) {
  const service = getLanguageService({});
  service.configure({
    schemas: [{ uri: "keyside://document", fileMatch: ["*.curves.json"], schema: documentJsonSchema() }],
  });
  let held = TextDocument.create("file:///bench/shot.curves.json", "json", 1, text);
  const changeOf = textChanges(text);
  const take = (change) => {
    held = TextDocument.update(held, [change], held.version + 1);
  };
  return {
    how: "JSON language service",
    isPeer: true,
    make(edit) {
      const change = changeOf(edit);
      return timed(
        () => processorTimeOf(process.pid),
        () => {
          take(change);
          return service.doValidation(held, service.parseJSONDocument(held));
        },
      );
    },
    skip: async (edit) => take(changeOf(edit)),
    stop: async () => {},
  };
}

function quantile(times, kind, share) {
  const sorted = times.map((time) => time[kind]).sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)];
}

function ms(value) {
  if (Number.isNaN(value)) return "not told";
  return `${value.toFixed(value < 10 ? 2 : 0)} ms`;
}
