// Speed and memory of the run over an archive, through the command itself: `npm run bench:archive`.
import { spawn } from "node:child_process";
import { mkdir, mkdtemp, readFile, rm, stat, writeFile } from "node:fs/promises";
import { availableParallelism, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { median, table } from "./measure.mjs";
import { skeletonDocument } from "./skeleton.mjs";

const command = fileURLToPath(new URL("../../packages/server/bin/keyside.js", import.meta.url));
/** Shots of the large archive, and of the small one that memory is compared with; how often all is measured. */
const large = Number(process.argv[2] ?? 1000);
const small = Math.max(1, Math.round(large / 10));
const rounds = Number(process.argv[3] ?? 3);

const folder = await mkdtemp(join(tmpdir(), "keyside-bench-"));
try {
  await measure();
} finally {
  await rm(folder, { recursive: true, force: true });
}

async function measure() {
  const bytes = await makeArchive("large", large);
  await makeArchive("small", small);
  console.log(
    `${large} shots, 60 nodes × 240 frames, half with a key on every frame, half on every eighth: ` +
      `${(bytes / 1e6).toFixed(0)} MB. Node ${process.version}, ${availableParallelism()} cores, ` +
      `load before ${loadavg()[0].toFixed(2)}. Medians of ${rounds} round(s); within a round the runs follow each ` +
      "other, so that drift of the machine meets all alike.\n",
  );
  const runs = [];
  for (let round = 0; round < rounds; round++) {
    const cache = join(folder, `cache-${round}`);
    runs.push({
      one: await run("large", "--jobs", "1", "--no-cache"),
      two: await run("large", "--jobs", "2", "--no-cache"),
      cold: await run("large", "--jobs", "2", "--cache", cache),
      warm: await run("large", "--jobs", "2", "--cache", cache),
      // The files are minutes old by now, so that their times can be trusted.
      stat: await run("large", "--jobs", "2", "--cache", cache, "--trust", "stat"),
      reading: await reading("large"),
      small: await run("small", "--jobs", "2", "--no-cache"),
    });
    const texts = ["one", "two", "cold", "warm", "stat"].map((name) => runs[round][name].report);
    if (new Set(texts).size !== 1) throw new Error("The reports of the same archive differ.");
  }
  const middle = (value) => median(runs.map(value));
  const seconds = (value) => `${middle(value).toFixed(2)} s`;
  const megabytes = (name) => `${middle((run) => run[name].peak / 1e6).toFixed(0)} MB`;
  const compared = (what, against, measure, a, b, ratio) => [
    what,
    against,
    seconds((run) => run[a][measure]),
    seconds((run) => run[b][measure]),
    ratio,
  ];
  const faster = (a, b, measure) =>
    `${middle((run) => run[b][measure] / run[a][measure]).toFixed(2)} × as fast`;
  const rows = [
    compared(
      "two workers, wall time",
      "one worker",
      "seconds",
      "two",
      "one",
      faster("two", "one", "seconds"),
    ),
    compared(
      "two workers, processor time",
      "one worker",
      "processor",
      "two",
      "one",
      `${middle(({ one, two }) => two.processor / one.processor).toFixed(2)} × the time`,
    ),
    compared(
      "unchanged archive, wall time",
      "its first run",
      "seconds",
      "warm",
      "cold",
      faster("warm", "cold", "seconds"),
    ),
    compared(
      "unchanged archive, processor time",
      "its first run",
      "processor",
      "warm",
      "cold",
      faster("warm", "cold", "processor"),
    ),
    compared(
      "unchanged archive, by content, processor time",
      "reading and hashing the same files",
      "processor",
      "warm",
      "reading",
      `${middle(({ warm, reading }) => warm.processor / reading.processor).toFixed(2)} × the time`,
    ),
    compared(
      "unchanged archive, --trust stat, processor time",
      "reading and hashing the same files",
      "processor",
      "stat",
      "reading",
      `${middle(({ stat, reading }) => stat.processor / reading.processor).toFixed(2)} × the time`,
    ),
    compared(
      "a first run, which keeps its results, processor time",
      "a run without a cache",
      "processor",
      "cold",
      "two",
      `${middle(({ cold, two }) => cold.processor / two.processor).toFixed(2)} × the time`,
    ),
    [
      `peak memory at ${large} shots, all threads`,
      `at ${small} shots`,
      megabytes("two"),
      megabytes("small"),
      `${middle(({ two, small: few }) => two.peak / few.peak).toFixed(2)} × as much`,
    ],
  ];
  console.log(table(["what", "against", "Keyside", "the other", "ratio"], rows));
  const kept = await cacheSize(join(folder, "cache-0"));
  const each = [
    [
      "processor time of a shot, judged anew, one worker",
      `${((middle(({ one }) => one.processor) / large) * 1000).toFixed(1)} ms`,
    ],
    [
      "time of a shot, judged anew, one worker",
      `${((middle(({ one }) => one.seconds) / large) * 1000).toFixed(1)} ms`,
    ],
    [
      "time of an unchanged shot, two workers",
      `${((middle(({ warm }) => warm.seconds) / large) * 1000).toFixed(2)} ms`,
    ],
    ["document", `${(bytes / large / 1000).toFixed(0)} kB`],
    ["report as JSON", `${(runs[0].one.report.length / large / 1000).toFixed(1)} kB`],
    ["result in the cache", `${(kept / large / 1000).toFixed(1)} kB`],
  ];
  console.log(`\n${table(["per shot", "measured"], each)}`);
  console.log(`\nLoad after: ${loadavg()[0].toFixed(2)}.`);
}

async function makeArchive(name, count) {
  let bytes = 0;
  for (let i = 0; i < count; i++) {
    const sequence = join(folder, name, `seq${String(Math.floor(i / 50)).padStart(2, "0")}`);
    if (i % 50 === 0) await mkdir(sequence, { recursive: true });
    const document = skeletonDocument({ count: 60, frames: 240, every: i % 2 === 0 ? 1 : 8, seed: i + 1 });
    const text = JSON.stringify(document);
    bytes += text.length;
    await writeFile(join(sequence, `shot_${String(i).padStart(4, "0")}.curves.json`), text);
  }
  return bytes;
}

/** Runs the command on an archive: wall time, processor time, the most memory that the whole process ever held. */
async function run(archive, ...options) {
  const out = join(folder, "report.json");
  const argv = ["check", archive, "--format", "json", "--out", out, "--force", "--no-progress", ...options];
  const ran = await program(command, ...argv);
  return { ...ran, report: await readFile(out, "utf8") };
}

/** Reads and hashes every file of an archive, in a program of its own, with what Keyside hashes with. */
function reading(archive) {
  const text =
    "const{hash}=require('node:crypto');const{readdirSync,readFileSync}=require('node:fs');" +
    `for(const name of readdirSync(${JSON.stringify(archive)},{recursive:true}))` +
    `if(name.endsWith('.json'))hash('sha256',readFileSync(${JSON.stringify(archive)}+'/'+name))`;
  return program("-e", text);
}

async function program(...argv) {
  // The process writes its own figures as it ends: its memory is that of all of its threads.
  const probe =
    "data:text/javascript,process.on('exit',()=>{const{maxRSS,userCPUTime,systemCPUTime}=process.resourceUsage();" +
    "process.stderr.write(JSON.stringify({peak:maxRSS*1024,processor:(userCPUTime+systemCPUTime)/1e6}))})";
  const start = performance.now();
  const child = spawn(process.execPath, ["--import", probe, ...argv], {
    cwd: folder,
    stdio: ["ignore", "ignore", "pipe"],
  });
  let stderr = "";
  child.stderr.on("data", (data) => {
    stderr += data;
  });
  const code = await new Promise((resolve) => child.on("close", resolve));
  const seconds = (performance.now() - start) / 1000;
  if (code !== 0 && code !== 1) throw new Error(`The run ended with ${code}: ${stderr}`);
  return { seconds, ...JSON.parse(stderr) };
}

async function cacheSize(path) {
  const { cacheContents } = await import("../../packages/server/dist/judge/archive/tidy-cache.js");
  return (await stat(path)).isDirectory() ? (await cacheContents(path)).bytes : 0;
}
