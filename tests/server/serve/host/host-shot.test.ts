import { expect, test } from "vitest";
import { editShot, type KeyEdit } from "../../../../packages/core/document/edit.ts";
import { shotOf } from "../../../../packages/core/document/read.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { ShotSession } from "../../../../packages/core/session/shot-session.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { HostShot } from "../../../../packages/server/serve/host/host-shot.ts";
import type { NotesChanged, NotesSoFar } from "../../../../packages/server/serve/host/sent.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";

const document = pointDocument(
  { "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) },
  { range: [1, 40] },
);

test("after judging failed the next edit is judged from the keys alone, and tells what changed since the last telling", () => {
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("the document cannot be used");
  const told: NotesChanged[] = [];
  const failures: number[] = [];
  const opened = new HostShot(
    { name: "a", folder: null, revision: 4, shot, settings: resolveSettings(registry) },
    {
      isWaiting: () => false,
      now: () => 0,
      soFar: () => {},
      reviewed: () => {},
      changed: (message) => told.push(message),
      failed: (revision) => failures.push(revision),
    },
  );
  const judge = () => {
    for (const _ of opened.steps());
    opened.done();
  };
  judge();
  const pop: KeyEdit = { kind: "set", node: "point", channel: "translation.x", frame: 18, value: 3 };
  expect(opened.edit([pop])).toEqual([]);
  opened.steps().next();
  opened.failed(new Error("a check threw"));
  expect(failures).toEqual([5]);
  expect(opened.notes).toBeNull();
  expect(opened.edit([{ ...pop, frame: 19 }])).toEqual([]);
  judge();
  expect(told.map(({ revision }) => revision)).toEqual([4, 6]);
  expect(told[1].added.length).toBeGreaterThan(0);
  expect(opened.notes).not.toBeNull();
});

/** A point that is made to hop beside others that stand, judged by a clock that each step moves on. */
function slowRun(stepTime: number, tellsSoFar: boolean) {
  const others = Array.from({ length: 20 }, (_, index) => ({ id: `other${index}` }));
  const { shot } = shotOf({ ...document, nodes: [...others, ...document.nodes] });
  if (shot === null) throw new Error("the document cannot be used");
  const told: { at: number; message: NotesChanged | NotesSoFar }[] = [];
  let clock = 1000;
  const tell = (message: NotesChanged | NotesSoFar) => void told.push({ at: clock, message });
  const opened = new HostShot(
    { name: "a", folder: null, revision: 0, shot, settings: resolveSettings(registry), tellsSoFar },
    {
      isWaiting: () => false,
      now: () => clock,
      soFar: tell,
      reviewed: () => {},
      changed: tell,
      failed: () => {},
    },
  );
  const judge = () => {
    for (const _ of opened.steps()) clock += stepTime;
    opened.done();
  };
  judge();
  told.length = 0;
  const began = clock;
  const pop: KeyEdit = { kind: "set", node: "point", channel: "translation.x", frame: 18, value: 3 };
  expect(opened.edit([pop])).toEqual([]);
  judge();
  return { told, began, ended: clock };
}

const isSoFar = (message: NotesChanged | NotesSoFar): message is NotesSoFar => "share" in message;

test("while a run takes long, the client hears of the edited part at least every 100 ms, and of its own revision", () => {
  const { told, began } = slowRun(20, true);
  const early = told.map(({ message }) => message).filter(isSoFar);
  expect(early.length).toBeGreaterThan(3);
  const times = [began, ...told.map(({ at }) => at)];
  for (let k = 1; k < times.length; k++) expect(times[k] - times[k - 1]).toBeLessThanOrEqual(100);
  expect(early.every(({ revision }) => revision === 1)).toBe(true);
  const shares = early.map(({ share }) => share);
  expect(shares).toEqual([...shares].sort((a, b) => a - b));
  expect(early[0].notes.map(({ check }) => check)).toContain("pop");
  const last = told[told.length - 1].message as NotesChanged;
  expect(last.revision).toBe(1);
  expect(last.added.map(({ check }) => check)).toContain("pop");
});

test("a run that ends soon tells its notes alone, and so does each to a client that has not asked for more", () => {
  expect(slowRun(0.01, true).told.map(({ message }) => isSoFar(message))).toEqual([false]);
  expect(slowRun(20, false).told.map(({ message }) => isSoFar(message))).toEqual([false]);
});

test("a run that edits overtake is told of its own revision, then the newest is judged as a fresh session judges it", () => {
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("the document cannot be used");
  const settings = resolveSettings(registry);
  const told: NotesChanged[] = [];
  const opened = new HostShot(
    { name: "a", folder: null, revision: 0, shot, settings },
    {
      isWaiting: () => false,
      now: () => 0,
      soFar: () => {},
      reviewed: () => {},
      changed: (message) => told.push(message),
      failed: () => {},
    },
  );
  const pop = (frame: number, value: number): KeyEdit => ({
    kind: "set",
    node: "point",
    channel: "translation.x",
    frame,
    value,
  });
  opened.edit([pop(18, 3)]);
  const run = opened.steps();
  run.next();
  opened.edit([pop(18, 0.5)]);
  opened.edit([pop(25, 4)]);
  expect(opened.notes).toBeNull();
  while (run.next().done !== true);
  opened.done();
  const fresh = (edits: readonly KeyEdit[]) => new ShotSession(editShot(shot, edits), settings).notes;
  const fingerprints = (notes: readonly { fingerprint: string }[]) =>
    notes.map(({ fingerprint }) => fingerprint);
  expect(told[0].revision).toBe(1);
  expect(fingerprints(told[0].added)).toEqual(fingerprints(fresh([pop(18, 3)])));
  // What the client knows is of an older revision than the shot.
  expect(opened.notes).toBeNull();
  for (const _ of opened.steps());
  opened.done();
  expect(told[1].revision).toBe(3);
  expect(opened.notes).toEqual(fresh([pop(18, 0.5), pop(25, 4)]));
});
