// Edits a shot ten thousand times through a feed in this process, and prints the heap before and after as JSON.
// Run with --expose-gc, from what is built.
import { PassThrough } from "node:stream";
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { connectionOver, serve } from "../../../../packages/server/dist/serve/feed/connection.js";
import { nodeEnvironment } from "../../../../packages/server/dist/serve/feed/environment.js";
import { readerOver } from "../../../../packages/server/dist/serve/transport/reader.js";

const edits = 10_000;
/** Edits that are sent before their notes are waited for. */
const batch = 4;
const uri = "file:///shots/soak.curves.json";

const [toFeed, fromFeed] = [new PassThrough(), new PassThrough()];
const writer = new StreamMessageWriter(fromFeed);
serve(connectionOver(readerOver(toFeed, writer, 1 << 26), writer), nodeEnvironment());
const client = createProtocolConnection(new StreamMessageReader(fromFeed), new StreamMessageWriter(toFeed));
let told = 0;
let wake = () => {};
client.onNotification("textDocument/publishDiagnostics", ({ version }) => {
  told = version ?? told;
  wake();
});
client.listen();
const capabilities = { textDocument: { publishDiagnostics: { versionSupport: true } } };
await client.sendRequest("initialize", { processId: null, rootUri: null, capabilities });
await client.sendNotification("initialized", {});

let version = 1;
const textDocument = { uri, languageId: "json", version, text: shot() };
await client.sendNotification("textDocument/didOpen", { textDocument });
const lines = textDocument.text.split("\n");
const keyLines = lines.flatMap((line, index) => (/^\s*\[\d+, /.test(line) ? [index] : []));
const nodeLine = lines.findIndex((line) => line.includes('"id": "tip"'));

await rounds(2500);
const before = heap();
await rounds(edits);
const after = heap();
console.log(JSON.stringify({ edits, before, after, told: told === version }));
process.exit(0);

async function rounds(count) {
  for (let i = 0; i < count; i++) {
    edit(i);
    if (i % batch === batch - 1) await new Promise((resolve) => waitFor(version, resolve));
  }
  await new Promise((resolve) => waitFor(version, resolve));
}

function waitFor(wanted, resolve) {
  if (told >= wanted) resolve();
  else wake = () => waitFor(wanted, resolve);
}

/** Values mostly; now and then a key that is half-written, one that comes and goes, or a node by another name. */
function edit(i) {
  const line = keyLines[(i * 7) % keyLines.length];
  const whole = lines[line];
  const value = ((i * 37) % 200) / 10;
  if (i % 40 === 13) {
    change(line, whole.slice(0, 9));
    change(line, whole);
  } else if (i % 40 === 27) {
    change(line, `${whole}\n    [${500 + (i % 90)}, 1],`, line + 1, 0, "\n");
    change(line, `${whole}\n`, line + 2, 0);
  } else if (i % 40 === 33) {
    change(nodeLine, lines[nodeLine].replace('"tip"', `"tip_${i}"`));
    change(nodeLine, lines[nodeLine]);
  } else {
    lines[line] = whole.replace(/, -?[\d.]+\]/, `, ${value}]`);
    change(line, lines[line]);
  }
}

function change(line, text, endLine = line, endCharacter = 1e6, rest = "") {
  version++;
  const range = { start: { line, character: 0 }, end: { line: endLine, character: endCharacter } };
  void client.sendNotification("textDocument/didChange", {
    textDocument: { uri, version },
    contentChanges: [{ range, text: text + rest }],
  });
}

function heap() {
  for (let i = 0; i < 4; i++) globalThis.gc();
  return process.memoryUsage().heapUsed;
}

function shot() {
  const curve = (node, channel, phase) => {
    const keys = Array.from(
      { length: 24 },
      (_, i) => `      [${1 + 2 * i}, ${(10 * Math.sin(i / 3 + phase)).toFixed(2)}]`,
    );
    return `    { "node": "${node}", "channel": "${channel}", "interpolation": "smooth", "keys": [\n${keys.join(",\n")}\n    ] }`;
  };
  return `{
  "format": "keyside.curves", "version": 1,
  "shot": { "frameRate": 24, "range": [1, 48] },
  "space": { "metresPerUnit": 0.01 },
  "nodes": [
    { "id": "post", "translation": [0, 150, 0] },
    { "id": "arm", "parent": "post", "translation": [0, 40, 0] },
    { "id": "tip", "parent": "arm", "translation": [0, 40, 0] }
  ],
  "curves": [
${[curve("post", "rotation.z", 0), curve("arm", "rotation.z", 1), curve("arm", "rotation.x", 2)].join(",\n")}
  ]
}
`;
}
