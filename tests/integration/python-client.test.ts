import { execFile, spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checkedEdits } from "../../packages/adapters/clients/typescript/edits.ts";
import { KeyQueue } from "../../packages/adapters/clients/typescript/key-queue.ts";
import type { KeyEdit } from "../../packages/core/document/edit.ts";
import { channels, interpolations } from "../../packages/core/document/model.ts";
import { groupsOfEdits } from "../adapters/clients/edit-sequences.ts";
import { eased, everyFrame, pointDocument } from "../support/shots.ts";

const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const folder = at("packages/adapters/clients/python");
const command = [process.execPath, at("packages/server/bin/keyside.js")];
const run = promisify(execFile);

/** Runs a program of Python with text on its input. */
async function python(args: readonly string[], input = ""): Promise<string> {
  const running = run("python3", [...args], { maxBuffer: 1 << 26 });
  running.child.stdin?.end(input);
  return (await running).stdout;
}

test("the client in Python is one file that Python 3.7 can read, with nothing but its standard library", async () => {
  const program = [
    "import ast, json, sys",
    "tree = ast.parse(open(sys.argv[1], encoding='utf-8').read(), feature_version=(3, 7))",
    "names = [n.name for x in ast.walk(tree) if isinstance(x, ast.Import) for n in x.names]",
    "names += [x.module for x in ast.walk(tree) if isinstance(x, ast.ImportFrom)]",
    "print(json.dumps([n for n in names if n.split('.')[0] not in sys.stdlib_module_names]))",
  ].join("\n");
  expect(JSON.parse(await python(["-c", program, join(folder, "keyside_client.py")]))).toEqual([]);
});

test("both clients fold edits alike", async () => {
  const call = fc.record({ edits: fc.constant([] as KeyEdit[]), sends: fc.boolean() });
  const sends = fc.array(call, { minLength: 24, maxLength: 24 });
  const runs = fc
    .sample(fc.tuple(groupsOfEdits, sends), 400)
    .map(([groups, calls]) => groups.map((edits, index) => ({ edits, sends: calls[index]?.sends ?? false })));
  const expected = runs.map((calls) => {
    const queue = new KeyQueue(1000);
    const requests: unknown[] = [];
    const send = () => {
      const step = queue.next();
      requests.push(step !== null && "edits" in step ? step.edits : null);
    };
    for (const { edits, sends } of calls) {
      if (sends) send();
      queue.add(checkedEdits(edits, null));
    }
    while (!queue.isEmpty) send();
    return requests;
  });
  const stdout = await python(
    [at("tests/integration/python_client/folding.py"), folder],
    JSON.stringify(runs),
  );
  expect(JSON.parse(stdout)).toEqual(JSON.parse(JSON.stringify(expected)));
});

describe("the client in Python", () => {
  // biome-ignore lint/suspicious/noExplicitAny: what the program printed
  let session: any;
  let shots: string;

  beforeAll(async () => {
    shots = mkdtempSync(join(tmpdir(), "keyside-python-"));
    const document = pointDocument(
      { "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) },
      { range: [1, 40] },
    );
    writeFileSync(join(shots, "point.curves.json"), JSON.stringify(document));
    const program = at("tests/integration/python_client/session.py");
    session = JSON.parse(await python([program, folder, join(shots, "point.curves.json"), ...command]));
  });
  afterAll(() => rmSync(shots, { recursive: true }));

  test("queues edits without waiting, folds them per key, and keeps their order with those that wait", () => {
    expect(session.queueing).toMatchObject({ frame: 18 });
    expect(session.queueing.checks).toContain("pop");
    expect(session.queueing.revisions).toBeLessThan(400);
    expect(session.queueing.after).not.toContain("pop");
  });

  test("refuses what is no edit with a sentence, and counts no revision for it", () => {
    const { queue, edit, replace, before, after } = session.odd;
    const words = [
      ...["at frame 18 is nan", "is inf; it has to be a finite number", "is 1e+13|is 10000000000000"],
      ...['no channel "translation.w"; there are translation.x', 'The shot has no node "pint".'],
      ...["names its node", 'not "sett"', 'is "3"', "is True", "quaternion \\[x, y, z, w\\]", "no rotation"],
      ...['no interpolation "wavy"', "\\[frames, value\\] or a slope", "is nan", "The new frame of"],
    ];
    expect(queue).toHaveLength(words.length);
    words.forEach((word, index) => {
      expect(queue[index]).toMatch(/^EditError: /);
      expect(queue[index]).toMatch(new RegExp(word));
      expect(edit[index]).toBe(queue[index]);
    });
    expect(replace).toMatch(/not finite/);
    expect(before).toEqual([0, 0]);
    expect(after).toBe(1);
  });

  test("tells which queued edits the feed refused, and makes the others", () => {
    expect(session.refused).toMatchObject({
      early: 0,
      told: [[[{ kind: "remove", node: "point", channel: "translation.x", frame: 18.5 }], "bad-edit"]],
      revision: 1,
    });
    expect(session.refused.checks).toContain("pop");
  });

  test("where the queue is full, takes the tool's own document, or refuses", () => {
    expect(session.full.said).toMatch(/^QueueFull: .* replace the shot/);
    expect(session.full).toMatchObject({ asked: [true], frame: 18 });
  });

  test("calls back from poll alone, on its thread; on its own where the tool asked for it", () => {
    expect(session.polling).toEqual({ early: 0, told: [[1, "MainThread"]], answers: ["pop"] });
    expect(session.atOnce.told).toEqual([expect.any(Number), "keyside feed, reading"]);
    expect(session.atOnce.waits).toMatch(/cannot wait for the feed/);
  });

  test("fixes, waives, explains; undo is made of edits too", () => {
    expect(session.fixing).toMatchObject({
      ...{ revision: 1, fixed: false, waived: false, back: true, undone: true, check: "pop" },
      ordered: [0.9, 0.7, 0.8],
      waiver: { check: "pop", node: "point", reason: "She hiccups.", by: "Ana" },
    });
  });

  test("hears what has been found so far while a judgement takes long", () => {
    expect(session.soFar).toEqual({ revisions: [0], grows: true, within: true, settled: 0 });
  });

  test("says what people say, and hears it back beside its keys", () => {
    expect(session.reviewing).toMatchObject({
      ...{ isOwn: true, by: "Ana", problems: [], told: [0] },
      refused: expect.stringMatching(/^FeedError: None of the changes was made/),
      // The remark, its mark, and the null that ends the list.
      entries: 3,
    });
    expect(session.reviewing.frames.length).toBeGreaterThan(0);
    expect(session.reviewing.mean).toBeGreaterThan(0);
  });

  test("says when the feed has died, starts it again, and opens the tool's own document", () => {
    expect(session.dying).toMatchObject({ early: 0, back: [["without"]], frame: 18 });
    expect(session.dying.gone).toHaveLength(1);
    expect(session.dying.gone[0]).toMatch(/^The connection to the feed ended/);
    expect(session.dying.without).toMatch(/^FeedGone/);
    expect(session.dying.waited).toMatch(/^FeedGone/);
    expect(session.dying.again).toContain("pop");
  });

  test("knows the channels and interpolations of the core", () => {
    expect([...session.channels].sort()).toEqual([...channels].sort());
    expect([...session.interpolations].sort()).toEqual([...interpolations].sort());
  });

  test("a feed that it started ends when the tool is killed", async () => {
    const tool = spawn("python3", [at("tests/integration/python_client/tool.py"), folder, ...command]);
    const feed = await new Promise<number>((resolve) => {
      tool.stdout.once("data", (text) => resolve(Number(String(text))));
    });
    const isThere = () => {
      try {
        return process.kill(feed, 0);
      } catch {
        return false;
      }
    };
    expect(isThere()).toBe(true);
    tool.kill("SIGKILL");
    // The test's own time ends what hangs.
    while (isThere()) await new Promise((resolve) => setTimeout(resolve, 20));
    expect(isThere()).toBe(false);
  });
});
