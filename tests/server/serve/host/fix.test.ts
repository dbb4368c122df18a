import { describe, expect, test } from "vitest";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { methods } from "../../../../packages/server/serve/host/protocol.ts";
import { eased, everyFrame, pointDocument } from "../../../support/shots.ts";
import { hostClient, refusalOf } from "./host-client.ts";

const course = eased(6, 30, 0, 1);
const document = pointDocument(
  {
    "translation.x": everyFrame(1, 40, course),
    "translation.y": everyFrame(1, 40, (frame) => (frame === 18 ? 0.2 : 0)),
  },
  { range: [1, 40] },
);

async function opened() {
  const client = hostClient();
  await client.hello();
  await client.request(methods.openShot, { shot: "a", text: writeDocument(document) });
  await client.toldOf("a", 0);
  return client;
}

interface Fixed {
  readonly revision: number;
  readonly fix: { readonly edits: object[]; readonly gone: string[]; readonly title: string } | null;
}

describe("keyside/fix", () => {
  test("gives edits that clear the note when they are sent back", async () => {
    const client = await opened();
    const [{ fingerprint }] = client.notesOf("a").filter(({ check }) => check === "pop");
    const { revision, fix } = await client.request<Fixed>(methods.fix, { shot: "a", fingerprint });
    expect(revision).toBe(0);
    expect(fix?.gone).toContain(fingerprint);
    expect(fix?.edits.length).toBe(1);
    await client.request(methods.editKeys, { shot: "a", revision: 1, edits: fix?.edits });
    expect((await client.toldOf("a", 1)).gone).toContain(fingerprint);
    expect(client.notesOf("a").map(({ check }) => check)).not.toContain("pop");
  });

  test("is given up when an edit arrives, and lets the edit through", async () => {
    const client = await opened();
    const [{ fingerprint }] = client.notesOf("a").filter(({ check }) => check === "pop");
    const refused = refusalOf(client.request<Fixed>(methods.fix, { shot: "a", fingerprint }));
    const edit = { kind: "set", node: "point", channel: "translation.x", frame: 18, value: 0.5 };
    const edited = client.request(methods.editKeys, { shot: "a", revision: 1, edits: [edit] });
    expect(await edited).toEqual({ shot: "a", revision: 1 });
    expect((await refused).data?.reason).toBe("shot-has-changed");
  });

  test("refuses notes that it does not know", async () => {
    const client = await opened();
    expect((await refusalOf(client.request(methods.fix, { shot: "a", fingerprint: "0" }))).data?.reason).toBe(
      "unknown-note",
    );
    expect((await refusalOf(client.request(methods.fix, { shot: "b", fingerprint: "0" }))).data?.reason).toBe(
      "unknown-shot",
    );
  });
});
