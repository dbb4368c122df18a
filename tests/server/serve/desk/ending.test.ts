import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { defaultSettings } from "../../../../packages/core/settings/resolve.ts";
import { defaultBudget } from "../../../../packages/server/base/budget.ts";
import { diskFiles } from "../../../../packages/server/base/files/read.ts";
import { unguarded } from "../../../../packages/server/base/guard.ts";
import { Desk } from "../../../../packages/server/serve/desk/desk.ts";
import { layOut } from "../../../../packages/server/serve/desk/laid-out.ts";
import { nodeTimers } from "../../../../packages/server/serve/feed/environment.ts";
import { poppingDocument } from "../../cli/shots-for-tests.ts";

/** What is called later keeps a program from ending: a desk that has ended leaves nothing of it. */
test("a look at the disk that is under way when the desk ends is the last one", async () => {
  const folder = await mkdtemp(join(tmpdir(), "keyside-desk-"));
  await writeFile(join(folder, "sign.curves.json"), JSON.stringify(poppingDocument()));
  const laid = await layOut("sign.curves.json", {
    ...{ files: diskFiles, cwd: folder, settings: defaultSettings(registry) },
    ...{ animation: undefined, budget: defaultBudget, guard: unguarded },
  });
  const due = new Set<() => void>();
  const desk = new Desk(laid, {
    files: diskFiles,
    timers: {
      ...nodeTimers,
      after: (_, run) => {
        due.add(run);
        return { cancel: () => due.delete(run) };
      },
    },
    startFeed: () => new Promise(() => {}),
    config: null,
    footage: null,
    reviewer: "Ada",
  });
  await desk.begin();
  const [look] = due;
  expect(due.size).toBe(1);
  due.clear();
  let seen = (_: null) => {};
  const looked = new Promise<null>((resolve) => {
    seen = resolve;
  });
  desk.saving.look = () => looked;
  look?.();
  await desk.stop();
  seen(null);
  await looked;
  await new Promise(setImmediate);
  desk.keepSoon();
  expect(due.size).toBe(0);
  await rm(folder, { recursive: true });
});
