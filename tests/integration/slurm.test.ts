import { execFileSync, spawnSync } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";
import { cleanDocument, poppingDocument } from "../server/cli/shots-for-tests.ts";
import { SlurmCluster } from "./slurm-cluster.ts";

/** The archive as a real array job of Slurm: packages slurm-wlm and munge. */

const root = fileURLToPath(new URL("../..", import.meta.url));
const command = fileURLToPath(new URL("../../packages/server/bin/keyside.js", import.meta.url));
const shotCount = 30;

let cluster: SlurmCluster;
let folder: string;

beforeAll(async () => {
  execFileSync("npm", ["run", "--silent", "build"], { cwd: root });
  folder = await mkdtemp(join(tmpdir(), "keyside-array-"));
  for (let i = 0; i < shotCount; i++) {
    const document = i % 3 === 0 ? cleanDocument() : poppingDocument();
    const shot = { ...document, shot: { ...document.shot, name: `pier_${i}` } };
    await mkdir(join(folder, `archive/seq${i % 4}`), { recursive: true });
    await writeFile(join(folder, `archive/seq${i % 4}/pier_${i}.curves.json`), JSON.stringify(shot));
  }
  await writeFile(join(folder, "archive/seq0/empty.curves.json"), "");
  await writeFile(
    join(folder, "archive/seq2/broken.curves.json"),
    JSON.stringify(cleanDocument()).slice(0, -40),
  );
  await writeFile(join(folder, "archive/seq1/keyside.config.json"), JSON.stringify({ failOn: "polish" }));
  cluster = await SlurmCluster.start();
}, 120_000);

afterAll(async () => {
  await cluster?.stop();
  await rm(folder, { recursive: true, force: true });
});

function keyside(...argv: string[]): number | null {
  return spawnSync(process.execPath, [command, ...argv], { cwd: folder, stdio: "ignore" }).status;
}

test.each([
  ["1-4", "a plain array"],
  ["0-6:2", "an array from 0 with a step"],
])("tasks %s, merged, are the single run byte for byte (%s)", async (array) => {
  const parts = await mkdtemp(join(folder, "parts-"));
  // Notes and unreadable shots end with 1 and 3: for the scheduler that is work done.
  await cluster.runArray(
    array,
    `"${process.execPath}" "${command}" check archive archive/nowhere --no-cache --shard auto --format json ` +
      `--out "${parts}/part-$SLURM_ARRAY_TASK_ID.json"; test $? -le 3 -a $? -ne 2`,
    folder,
  );
  const names = (await readdir(parts)).map((name) => join(parts, name));
  expect(names).toHaveLength(4);
  const counts = await Promise.all(
    names.map(async (name) => JSON.parse(await readFile(name, "utf8")).shots.length as number),
  );
  expect(counts.reduce((sum, count) => sum + count)).toBe(shotCount + 1);
  expect(Math.max(...counts)).toBeLessThan(shotCount);
  for (const format of ["json", "text"]) {
    const single = join(parts, `single.${format}`);
    const merged = join(parts, `merged.${format}`);
    const code = keyside(
      "check",
      "archive",
      "archive/nowhere",
      "--no-cache",
      "--format",
      format,
      "--out",
      single,
    );
    expect(code).toBe(3);
    expect(keyside("merge", ...names, "--format", format, "--out", merged)).toBe(code);
    expect((await readFile(merged)).equals(await readFile(single))).toBe(true);
  }
});

test("a task that is lost is named, not passed over", async () => {
  const parts = await mkdtemp(join(folder, "lost-"));
  await cluster.runArray(
    "1-3",
    `[ $SLURM_ARRAY_TASK_ID = 2 ] || "${process.execPath}" "${command}" check archive --no-cache --shard auto ` +
      `--format json --out "${parts}/part-$SLURM_ARRAY_TASK_ID.json"; test $? -le 3`,
    folder,
  );
  const names = (await readdir(parts)).map((name) => join(parts, name));
  const { status, stderr } = spawnSync(process.execPath, [command, "merge", ...names], { encoding: "utf8" });
  expect(status).toBe(2);
  expect(stderr).toContain("Of 3 shards these are missing: 2.");
});
