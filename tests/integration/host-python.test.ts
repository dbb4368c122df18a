import { execFile } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { expect, test } from "vitest";
import { editShot } from "../../packages/core/document/edit.ts";
import { readShot } from "../../packages/core/document/read.ts";
import { registry } from "../../packages/core/faults/registry.ts";
import { notesOf } from "../../packages/core/notes/found.ts";
import { resolveSettings } from "../../packages/core/settings/resolve.ts";
import { studyOf } from "../../packages/core/settings/study.ts";

const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const run = promisify(execFile);

interface Session {
  readonly stranger: string;
  readonly notes: readonly string[];
  readonly pop: string;
  readonly explained: string;
  readonly fixed: readonly string[];
  readonly gone: readonly string[];
  readonly refused: string;
  readonly revision: number;
  readonly told: readonly number[];
  readonly code: number;
}

test("the client in Python opens a demo shot, takes a popped key out and sees the note go", async () => {
  const demo = at("demo/shots/quay_0070_v1.curves.json");
  const { stdout } = await run("python3", [
    at("tests/integration/host_session.py"),
    at("packages/adapters/clients/python"),
    demo,
    "node",
    at("packages/server/bin/keyside.js"),
  ]);
  const session = JSON.parse(stdout) as Session;
  const { shot } = readShot(readFileSync(demo, "utf8"));
  if (shot === null) throw new Error("the demo shot cannot be read");
  const settings = resolveSettings(registry);
  const notes = notesOf(studyOf(shot, settings));
  const ids = (of: typeof notes) => of.map(({ fingerprint }) => fingerprint).sort();
  expect([...session.notes].sort()).toEqual(ids(notes));
  const key = notes.find(({ fingerprint }) => fingerprint === session.pop)?.keys[0];
  if (key === undefined) throw new Error("the note of the session is not among the notes");
  const fixed = editShot(shot, [{ kind: "remove", node: key.node, channel: key.channel, frame: key.frame }]);
  expect([...session.fixed].sort()).toEqual(ids(notesOf(studyOf(fixed, settings))));
  expect(session.gone).toContain(session.pop);
  expect(session).toMatchObject({
    stranger: "wrong-token",
    explained: "pop",
    refused: "bad-edit",
    revision: 40,
    code: 0,
  });
  expect(session.told.at(-1)).toBe(40);
});
