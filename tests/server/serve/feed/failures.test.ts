import { afterEach, expect, test, vi } from "vitest";
import { checkNamed } from "../../../../packages/core/faults/registry.ts";
import { Client } from "./client.ts";
import { cleanKey, popLine, popping } from "./shots.ts";

let client: Client;
afterEach(async () => {
  vi.restoreAllMocks();
  await client.stop();
});

test("a check that fails is told in the log for each document, and to the user once; other notes stand", async () => {
  const pop = checkNamed("pop");
  if (pop === undefined) throw new Error("the check is not there");
  client = await Client.start();
  const shown: string[] = [];
  client.connection.onNotification("window/showMessage", ({ message }: { message: string }) => {
    shown.push(message);
  });
  const uris = ["file:///shots/pier.curves.json", "file:///shots/quay.curves.json"] as const;
  await client.open(uris[0], popping);
  const others = (await client.diagnostics(uris[0], 1)).diagnostics.filter(({ code }) => code !== "pop");
  vi.spyOn(pop, "find").mockImplementation(() => {
    throw new Error("no such bone");
  });
  await client.change(uris[0], 2, popping);
  await client.diagnostics(uris[0], 2);
  await client.change(uris[0], 3, cleanKey, [
    [popLine, 0],
    [popLine, 999],
  ]);
  await client.diagnostics(uris[0], 3);
  await client.open(uris[1], popping);
  const { diagnostics } = await client.diagnostics(uris[1], 1);
  // What had yielded to a pop may speak now.
  const codes = diagnostics.map(({ code }) => code);
  expect(codes).toEqual(expect.arrayContaining(others.map(({ code }) => code)));
  expect(codes).not.toContain("pop");
  const logged = client.logged.filter((line) => line.includes("The check pop failed"));
  expect(logged.map((line) => line.split(": ")[0])).toEqual(uris);
  expect(shown).toEqual([expect.stringMatching(/^Keyside: The check pop failed on .*no such bone\./)]);
});
