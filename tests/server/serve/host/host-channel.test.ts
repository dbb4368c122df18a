import { describe, expect, test } from "vitest";
import { editShot, type KeyEdit } from "../../../../packages/core/document/edit.ts";
import type { Shot } from "../../../../packages/core/document/model.ts";
import { shotOf } from "../../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { type Overrides, resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { type FeedEnvironment, nodeTimers } from "../../../../packages/server/serve/feed/environment.ts";
import { messages } from "../../../../packages/server/serve/host/messages.ts";
import { methods } from "../../../../packages/server/serve/host/protocol.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";
import { framed, hostClient, refusalOf } from "./host-client.ts";

const document = pointDocument(
  { "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) },
  { range: [1, 40] },
);
const place = { node: "point", channel: "translation.x" } as const;
const value = (frame: number) => eased(6, 30, 0, 1)(frame);
const popped: KeyEdit = { kind: "set", ...place, frame: 18, value: value(18) + 0.4 };
const fixed: KeyEdit = { kind: "set", ...place, frame: 18, value: value(18) };

function shotFrom(from: CurveDocument): Shot {
  const { shot } = shotOf(from);
  if (shot === null) throw new Error("the document cannot be used");
  return shot;
}

/** Fingerprints and messages of a fresh check. */
function fresh(shot: Shot, overrides: Overrides = {}): string[] {
  const notes = notesOf(studyOf(shot, resolveSettings(registry, {}, overrides)));
  return notes.map(({ fingerprint, message }) => `${fingerprint} ${message}`).sort();
}

function known(client: ReturnType<typeof hostClient>, shot: string): string[] {
  return client
    .notesOf(shot)
    .map(({ fingerprint, message }) => `${fingerprint} ${message}`)
    .sort();
}

/** The document as a text, once edits are made. */
function writtenAfter(edits: readonly KeyEdit[]): object {
  return JSON.parse(writeDocument(editShot(shotFrom(document), edits)));
}

async function opened(shot = "a", more: object = {}, environment: Parameters<typeof hostClient>[0] = {}) {
  const client = hostClient(environment);
  await client.hello();
  await client.request(methods.openShot, { shot, document, ...more });
  await client.toldOf(shot, 0);
  return client;
}

describe("the host channel", () => {
  test("opens a shot, takes an edit, and tells which notes came and went", async () => {
    const client = hostClient();
    expect(await client.hello()).toMatchObject({ protocol: 1, server: { name: "keyside" } });
    const answer = await client.request(methods.openShot, { shot: "a", document });
    expect(answer).toEqual({ shot: "a", revision: 0, frameRate: "24", range: [1, 40], problems: [] });
    await client.toldOf("a", 0);
    expect(known(client, "a")).toEqual(fresh(shotFrom(document)));
    const edit = { shot: "a", revision: 1, edits: [popped] };
    expect(await client.request(methods.editKeys, edit)).toEqual({ shot: "a", revision: 1 });
    const { added } = await client.toldOf("a", 1);
    expect(added.map(({ check }) => check)).toContain("pop");
    const pop = added.find(({ check }) => check === "pop");
    expect(pop?.keys[0]).toMatchObject({ ...place, frame: 18, index: 17 });
    await client.request(methods.editKeys, { shot: "a", revision: 2, edits: [fixed] });
    const { gone } = await client.toldOf("a", 2);
    expect(gone).toContain(pop?.fingerprint);
    expect(known(client, "a")).toEqual(fresh(shotFrom(document)));
  });

  test("tells that a revision was judged also where no note changed", async () => {
    const client = await opened();
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [fixed] });
    expect(await client.toldOf("a", 1)).toMatchObject({ added: [], changed: [], gone: [] });
  });

  test("opens the text of a file of any kind that is read, with lines and columns of what is wrong", async () => {
    const client = hostClient();
    await client.hello();
    const text = writeDocument(document).replace('"keys": [', '"keys": [\n[0.5, "high"],');
    const answer = await client.request<{ problems: { line: number; column: number }[] }>(methods.openShot, {
      shot: "t",
      text,
    });
    const line = text.slice(0, text.indexOf('[0.5, "high"]')).split("\n").length;
    expect(answer.problems).toEqual([expect.objectContaining({ line, path: "curves/0/keys/0" })]);
    await client.toldOf("t", 0);
    const bvh = [
      "HIERARCHY",
      "ROOT hips",
      "{",
      "OFFSET 0 0 0",
      "CHANNELS 3 Xposition Yposition Zposition",
      "}",
      "MOTION",
      "Frames: 3",
      "Frame Time: 0.0416667",
      "0 0 0",
      "0 1 0",
      "0 2 0",
    ].join("\n");
    expect(await client.request(methods.openShot, { shot: "b", text: bvh, fileName: "b.bvh" })).toMatchObject(
      { shot: "b", revision: 0, problems: [] },
    );
    const other = await refusalOf(
      client.request(methods.openShot, { shot: "c", text: "", fileName: "c.doc" }),
    );
    expect(other.message).toContain('Files such as "c.doc" are not read');
  });

  test("replaces a shot: nodes and curves come and go", async () => {
    const client = await opened();
    const larger = {
      ...document,
      nodes: [...document.nodes, { id: "second" }],
      curves: [
        ...document.curves,
        {
          node: "second",
          channel: "translation.y" as const,
          keys: everyFrame(1, 40, (f) => (f < 20 ? 0 : 1)),
        },
      ],
    };
    const replaced = { shot: "a", revision: 1, document: larger };
    expect(await client.request(methods.replaceShot, replaced)).toMatchObject({ revision: 1, problems: [] });
    await client.toldOf("a", 1);
    expect(known(client, "a")).toEqual(fresh(shotFrom(larger)));
    await client.request(methods.replaceShot, { shot: "a", revision: 2, document });
    await client.toldOf("a", 2);
    expect(known(client, "a")).toEqual(fresh(shotFrom(document)));
  });

  test("takes the waivers that the tool keeps: a waived note goes, and comes back without its waiver", async () => {
    const client = await opened();
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    const { added } = await client.toldOf("a", 1);
    const pop = added.find(({ check }) => check === "pop");
    const waivers = [
      { check: "pop", node: pop?.node, frames: pop?.frames, reason: "A hiccup; it is meant." },
    ];
    const given = { shot: "a", revision: 2, waivers };
    expect(await client.request(methods.setWaivers, given)).toEqual({ shot: "a", revision: 2 });
    expect((await client.toldOf("a", 2)).gone).toEqual([pop?.fingerprint]);
    await client.request(methods.editKeys, { shot: "a", revision: 3, edits: [fixed] });
    expect((await client.toldOf("a", 3)).added.map(({ check }) => check)).toContain("unused-waiver");
    await client.request(methods.editKeys, { shot: "a", revision: 4, edits: [popped] });
    await client.request(methods.setWaivers, { shot: "a", revision: 5, waivers: [] });
    await client.toldOf("a", 5);
    expect(client.notesOf("a").map(({ fingerprint }) => fingerprint)).toContain(pop?.fingerprint);
    await client.request(methods.openShot, {
      shot: "b",
      document: writtenAfter([popped]),
      waivers,
    });
    await client.toldOf("b", 0);
    expect(client.notesOf("b").map(({ check }) => check)).not.toContain("pop");
    const wordless = await refusalOf(
      client.request(methods.setWaivers, { shot: "a", revision: 6, waivers: [{ check: "pop" }] }),
    );
    expect(wordless.data).toMatchObject({ problems: [{ path: "waivers/0/reason" }] });
  });

  test("takes remarks, tells them beside their keys, and waives what a review drops", async () => {
    const client = await opened();
    const told: { revision: number; remarks: { id: string; keys: unknown[] }[] }[] = [];
    client.connection.onNotification(methods.reviewChanged, (message) => {
      told.push(message);
    });
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    const [pop] = (await client.toldOf("a", 1)).added.filter(({ check }) => check === "pop");
    const drop = { kind: "decide", fingerprint: pop.fingerprint, verdict: "dropped" };
    const wordless = await refusalOf(
      client.request(methods.changeReview, { shot: "a", revision: 2, by: "Ada", changes: [drop] }),
    );
    expect(wordless.data).toMatchObject({ reason: "bad-review", problems: [{ path: "changes/0" }] });
    const { review, ids } = await client.request<{ review: object; ids: string[] }>(methods.changeReview, {
      ...{ shot: "a", revision: 2, by: "Ada", date: "2031-04-02" },
      changes: [
        { ...drop, reason: "a comic jolt" },
        { kind: "add", remark: { text: "Slower.", node: pop.node, frames: pop.frames } },
      ],
    });
    expect((await client.toldOf("a", 2)).gone).toEqual([pop.fingerprint]);
    await expect.poll(() => told.length).toBe(1);
    expect(told[0]).toMatchObject({ revision: 2, remarks: [{ id: ids[1], text: "Slower.", by: "Ada" }] });
    expect(told[0].remarks[0].keys.length).toBeGreaterThan(0);
    // What the tool kept is given when it opens the shot again.
    await client.request(methods.openShot, { shot: "b", document: writtenAfter([popped]), review });
    await client.toldOf("b", 0);
    expect(client.notesOf("b").map(({ check }) => check)).not.toContain("pop");
    const cut = { format: "keyside.review", version: 1, entries: [{ kind: "remark", id: "x" }] };
    const taken = await client.request(methods.setReview, { shot: "a", revision: 3, review: cut });
    expect(taken).toMatchObject({ revision: 3, problems: [expect.stringContaining("x")] });
  });

  test("judges by the settings that it is given, and by others later", async () => {
    const client = await opened("a", { config: { rate: 12 } });
    expect(known(client, "a")).toEqual(fresh(shotFrom(document), { rate: 12 }));
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    await client.request(methods.configureShot, { shot: "a", revision: 2, config: { style: "snappy" } });
    await client.toldOf("a", 2);
    expect(known(client, "a")).toEqual(fresh(editShot(shotFrom(document), [popped]), { style: "snappy" }));
    const bad = { shot: "a", revision: 3, config: { checks: { pup: false } } };
    const refusal = await refusalOf(client.request(methods.configureShot, bad));
    expect(refusal.data?.reason).toBe("bad-settings");
    // Code is named in files alone.
    const code = { shot: "a", revision: 3, config: { plugins: ["./studio.mjs"] } };
    const refused = await refusalOf(client.request(methods.configureShot, code));
    expect(refused.data?.reason).toBe("bad-settings");
    expect(refused.message).toContain("plugins: modules are named in keyside.config.json");
    expect(refusal.message).toContain('Did you mean "pop"?');
  });

  test("explains a check, and a note with the series behind it", async () => {
    const client = await opened();
    const about = await client.request<{ check: { name: string; computes: string } }>(methods.explain, {
      check: "pop",
    });
    expect(about.check).toMatchObject({ name: "pop", computes: expect.any(String) });
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    const { added } = await client.toldOf("a", 1);
    const pop = added.find(({ check }) => check === "pop");
    const explained = { shot: "a", fingerprint: pop?.fingerprint };
    expect(await client.request(methods.explain, explained)).toMatchObject({
      check: { name: "pop" },
      revision: 1,
      note: { ...pop, evidence: expect.any(Array) },
    });
    const unknown = await refusalOf(client.request(methods.explain, { shot: "a", fingerprint: "none" }));
    expect(unknown.data?.reason).toBe("unknown-note");
    const misspelt = await refusalOf(client.request(methods.explain, { check: "hard-stp" }));
    expect(misspelt.message).toContain('Did you mean "hard-stop"?');
  });

  test("says nothing more of a shot that was closed", async () => {
    const client = await opened();
    const edit = client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    const closed = client.request(methods.closeShot, { shot: "a" });
    await edit;
    expect(await closed).toBeNull();
    const late = await refusalOf(
      client.request(methods.editKeys, { shot: "a", revision: 2, edits: [fixed] }),
    );
    expect(late.data).toMatchObject({ reason: "unknown-shot", open: [] });
    await new Promise((resolve) => setTimeout(resolve, 30));
    expect(client.told.map(({ revision }) => revision)).toEqual([0]);
  });

  test("keeps the shots of one connection apart from those of another", async () => {
    const one = await opened();
    const other = await opened();
    await one.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    await one.toldOf("a", 1);
    await other.request(methods.editKeys, { shot: "a", revision: 1, edits: [fixed] });
    await other.toldOf("a", 1);
    expect(known(other, "a")).toEqual(fresh(shotFrom(document)));
  });
});

describe("the host channel refuses", () => {
  test("whatever comes before hello", async () => {
    const client = hostClient();
    const { code, data, message } = await refusalOf(
      client.request(methods.openShot, { shot: "a", document }),
    );
    expect(code).toBe(1);
    expect(data?.reason).toBe("hello-first");
    expect(message).toContain("keyside/hello");
  });

  test("a client whose versions it does not speak, and names its own", async () => {
    const client = hostClient();
    const refusal = await refusalOf(client.request(methods.hello, { protocols: [99] }));
    expect(refusal.data).toEqual({ reason: "unsupported-protocol", protocols: [1] });
    expect(await client.hello({ protocols: [7, 1] })).toMatchObject({ protocol: 1 });
  });

  test("a revision that is not the next one, and changes nothing", async () => {
    const client = await opened();
    for (const revision of [0, 2, 40]) {
      const refusal = await refusalOf(
        client.request(methods.editKeys, { shot: "a", revision, edits: [popped] }),
      );
      expect(refusal.data).toEqual({ reason: "stale-revision", revision: 0 });
      expect(refusal.message).toContain("the next one is 1");
    }
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [fixed] });
    await client.toldOf("a", 1);
    expect(known(client, "a")).toEqual(fresh(shotFrom(document)));
  });

  test("all edits of a list if one cannot be made, and says which and why", async () => {
    const client = await opened();
    const edits: KeyEdit[] = [popped, { kind: "remove", ...place, frame: 99 }];
    const refusal = await refusalOf(client.request(methods.editKeys, { shot: "a", revision: 1, edits }));
    expect(refusal.code).toBe(7);
    expect(refusal.data).toMatchObject({
      reason: "bad-edit",
      revision: 0,
      problems: [{ code: "no-such-key", path: "edits/1" }],
    });
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [fixed] });
    await client.toldOf("a", 1);
    expect(known(client, "a")).toEqual(fresh(shotFrom(document)));
  });

  test("a shot that is open already, one that is not open, and one in which nothing can be judged", async () => {
    const client = await opened("shot_a");
    const again = await refusalOf(client.request(methods.openShot, { shot: "shot_a", document }));
    expect(again.data).toEqual({ reason: "shot-is-open", revision: 0 });
    const unknown = await refusalOf(
      client.request(methods.editKeys, { shot: "shot_b", revision: 1, edits: [popped] }),
    );
    expect(unknown.data).toEqual({ reason: "unknown-shot", open: ["shot_a"] });
    expect(unknown.message).toContain('Did you mean "shot_a"?');
    const broken = await refusalOf(client.request(methods.openShot, { shot: "b", text: "{" }));
    expect(broken.data?.reason).toBe("bad-document");
    const both = await refusalOf(client.request(methods.openShot, { shot: "b", text: "{}", document: {} }));
    expect(both.data?.reason).toBe("bad-params");
  });

  test("params that are not what the message's schema says, and names the place", async () => {
    const client = await opened();
    const edits = [popped, { kind: "set", node: "point", channel: "translation.w", frame: 1, value: 0 }];
    const refusal = await refusalOf(client.request(methods.editKeys, { shot: "a", revision: 1, edits }));
    expect(refusal.code).toBe(-32602);
    expect(refusal.message).toContain("edits/1/channel");
    const empty = await refusalOf(client.request(methods.editKeys));
    expect(empty.data?.reason).toBe("bad-params");
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    await client.toldOf("a", 1);
  });
});

describe("under a flood of edits the host channel", () => {
  const count = 600;
  const edits = Array.from(
    { length: count },
    (_, i): KeyEdit => ({
      kind: "set",
      ...place,
      frame: 8 + (i % 20),
      value: value(8 + (i % 20)) + (i % 7) / 5,
    }),
  );
  const final = () => edits.reduce((shot, edit) => editShot(shot, [edit]), shotFrom(document));

  test("folds edits, tells of the newest at last, and never of an older revision after a newer one", async () => {
    let newest = 0;
    const early: [told: number, newest: number][] = [];
    const client = hostClient(
      {},
      {
        arrived: (message) => {
          const { method, params } = message as { method?: string; params?: { revision: number } };
          if (method === methods.editKeys && params !== undefined) newest = params.revision;
        },
        sent: (message) => {
          const { method, params } = message as { method?: string; params?: { revision: number } };
          if (method !== methods.notesChanged || params === undefined) return;
          if (params.revision > newest) early.push([params.revision, newest]);
        },
      },
    );
    await client.hello();
    await client.request(methods.openShot, { shot: "a", document });
    await client.toldOf("a", 0);
    for (let from = 0; from < count; ) {
      const burst = edits.slice(from, from + 1 + ((from * 7) % 40));
      client.toFeed.write(burst.map((edit, i) => framedEdit(from + i + 1, edit)).join(""));
      from += burst.length;
      for (let turn = 0; turn < from % 5; turn++) await new Promise((resolve) => setImmediate(resolve));
    }
    await client.toldOf("a", count);
    expect(newest).toBe(count);
    expect(early).toEqual([]);
    const revisions = client.told.map(({ revision }) => revision);
    expect(revisions.length).toBeLessThan(count / 2);
    expect(revisions).toEqual([...new Set(revisions)].sort((a, b) => a - b));
    expect(known(client, "a")).toEqual(fresh(final()));
  });

  test("tells what it has computed, with its revision, when an edit has arrived whose turn has not come", async () => {
    const soon = new Set<() => void>();
    const run = () => {
      for (const next of [...soon]) {
        soon.delete(next);
        next();
      }
    };
    const timers: FeedEnvironment["timers"] = {
      ...nodeTimers,
      // All steps of a judgement fit into one slice.
      now: () => 0,
      soon: (next) => {
        soon.add(next);
        return { cancel: () => soon.delete(next) };
      },
    };
    let isSecond = false;
    const arrived = (message: object) => {
      if ((message as { id?: string }).id !== "e2") return;
      isSecond = true;
      // The message is noted as arrived, and waits for its turn: the judgement of the first edit ends here.
      queueMicrotask(run);
    };
    const client = hostClient({ timers }, { arrived });
    await client.hello();
    await client.request(methods.openShot, { shot: "a", document });
    run();
    run();
    await client.toldOf("a", 0);
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    run();
    expect(soon.size).toBe(1);
    client.toFeed.write(framedEdit(2, fixed));
    while (!isSecond) await new Promise((resolve) => setImmediate(resolve));
    await client.request(methods.explain, { check: "pop" });
    for (let turn = 0; turn < 5; turn++) run();
    await client.toldOf("a", 2);
    expect(client.told.map(({ revision }) => revision)).toEqual([0, 1, 2]);
  });

  test("judges once what arrives in one piece", async () => {
    // No time passes: however slow the machine is, the edits have not waited long.
    const client = await opened("a", {}, { timers: { ...nodeTimers, now: () => 0 } });
    client.told.length = 0;
    client.toFeed.write(edits.map((edit, i) => framedEdit(i + 1, edit)).join(""));
    await client.toldOf("a", count);
    expect(client.told.map(({ revision }) => revision)).toEqual([count]);
    expect(known(client, "a")).toEqual(fresh(final()));
  });

  test("is not held up by requests that are refused, or sent the wrong way", async () => {
    const client = await opened();
    const revision = 1;
    const bad = [
      { id: "x1", params: { shot: "a", revision: 9, edits: [popped] } },
      { params: { shot: "a", revision, edits: [popped] } },
      { id: "x2", params: { shot: "a" } },
      { id: "x3" },
    ].map((message) => framed({ method: methods.editKeys, ...message }));
    client.toFeed.write(bad.join(""));
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    const { added } = await client.toldOf("a", 1);
    expect(added.map(({ check }) => check)).toContain("pop");
  });
});

function framedEdit(revision: number, edit: KeyEdit): string {
  return framed({
    id: `e${revision}`,
    method: methods.editKeys,
    params: { shot: "a", revision, edits: [edit] },
  });
}

describe("what the host channel sends", () => {
  test("is what the schemas say", async () => {
    const client = await opened();
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: [popped] });
    await client.toldOf("a", 1);
    for (const message of client.told) {
      expect(messages[methods.notesChanged].params.parse(message)).toEqual(message);
    }
    const { added } = client.told[1];
    const answers = {
      [methods.hello]: await client.hello(),
      [methods.explain]: await client.request(methods.explain, {
        shot: "a",
        fingerprint: added[0].fingerprint,
      }),
      [methods.openShot]: await client.request(methods.openShot, { shot: "b", document }),
    };
    for (const [method, answer] of Object.entries(answers)) {
      expect(messages[method as keyof typeof answers].answer.parse(answer)).toEqual(answer);
    }
  });
});
