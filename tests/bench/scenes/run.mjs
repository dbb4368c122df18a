import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { judgedScene } from "./judge.mjs";
import { reportOf } from "./report.mjs";
import { scenes } from "./sets.mjs";

const usage = `npm run bench:scenes [-- OPTIONS]

  (no options)   both halves, as a table
  --half NAME    "open": scenes that may be looked at; "shut": their other half
  --misses       the flaws of the open half that nobody said, and what was said near them
  --false        the notes on clean scenes of the open half
  --rank         the supervisor's first where a note says it, but none of our first two
  --scene NAME   one scene of the open half (may be repeated)
  --write        writes the table into docs/scenes-bench.md
`;

const flag = { type: /** @type {const} */ ("boolean"), default: false };
const { values } = parseArgs({
  options: {
    help: flag,
    half: { type: "string" },
    misses: flag,
    false: flag,
    rank: flag,
    scene: { type: "string", multiple: true, default: [] },
    write: flag,
  },
});

if (values.help) console.log(usage);
else await run();

async function run() {
  const records = [];
  for (const { half, load } of scenes) {
    if (values.half !== undefined && values.half !== half) continue;
    const scene = await load();
    if (values.scene.length > 0 && !(values.scene.includes(scene.name) && half === "open")) continue;
    const record = judgedScene(scene, half);
    records.push(record);
    // What stands in the shut half is counted and not told: a rule could be shaped by it.
    if (half === "shut") continue;
    if (values.misses) for (const line of record.missed) console.log(line);
    if (values.false) for (const line of record.wrong) console.log(line);
    if (values.rank) for (const line of record.late) console.log(line);
  }
  const report = reportOf(records);
  console.log(report);
  if (!values.write) return;
  if (values.half !== undefined || values.scene.length > 0) throw new Error("--write takes all scenes.");
  const { writeBetween } = await import("../shots/report/pages.mjs");
  writeBetween(
    fileURLToPath(new URL("../../../docs/scenes-bench.md", import.meta.url)),
    report,
    "bench:scenes",
  );
}
