import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { expect, test } from "vitest";
import { methods } from "../../../../packages/server/serve/host/protocol.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";
import { hostClient } from "./host-client.ts";

const document = pointDocument(
  { "translation.x": everyFrame(1, 40, eased(6, 30, 0, 1)) },
  { range: [1, 40] },
);

test("10,000 edits of a shot leave no more in memory than there was", async () => {
  const client = hostClient();
  await client.hello();
  await client.request(methods.openShot, { shot: "a", document });
  let revision = 0;
  const work = async (edits: number) => {
    for (let edit = 0; edit < edits; edit++) {
      revision++;
      const frame = 1 + (edit % 40);
      const set = { kind: "set", node: "point", channel: "translation.x", frame, value: Math.sin(revision) };
      const made = client.request(methods.editKeys, { shot: "a", revision, edits: [set] });
      if (edit % 10 !== 9) continue;
      await made;
      await client.toldOf("a", revision);
      client.told.length = 0;
    }
    await client.request(methods.configureShot, { shot: "a", revision: ++revision, config: { rate: 24 } });
    await client.toldOf("a", revision);
    client.told.length = 0;
  };
  await work(2000);
  const before = heapInUse();
  await work(10_000);
  expect(heapInUse()).toBeLessThan(1.1 * before);
});

/** Bytes that are still in use after everything else has been collected. */
function heapInUse(): number {
  setFlagsFromString("--expose-gc");
  const collect = runInNewContext("gc") as () => void;
  collect();
  collect();
  return process.memoryUsage().heapUsed;
}
