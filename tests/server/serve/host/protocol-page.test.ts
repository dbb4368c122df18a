import { readFileSync } from "node:fs";
import { PassThrough } from "node:stream";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { StreamMessageReader, StreamMessageWriter } from "vscode-languageserver/node";
import { connectionOver, serve } from "../../../../packages/server/serve/feed/connection.ts";
import { nodeEnvironment } from "../../../../packages/server/serve/feed/environment.ts";
import { hostChannel } from "../../../../packages/server/serve/host/host-channel.ts";
import { messages } from "../../../../packages/server/serve/host/messages.ts";
import { methods, refusals } from "../../../../packages/server/serve/host/protocol.ts";
import { hostJsonSchema, hostReference } from "../../../../packages/server/serve/host/reference.ts";
import { readerOver } from "../../../../packages/server/serve/transport/reader.ts";
import { framed } from "./host-client.ts";

const page = readFileSync(new URL("../../../../docs/host-protocol.md", import.meta.url), "utf8");

interface Step {
  readonly from: "Client" | "Feed";
  readonly message: Record<string, unknown>;
}

const exchange: readonly Step[] = [...page.matchAll(/^(Client|Feed):\n\n```json\n([^`]+)```/gm)].map(
  ([, from, json]) => ({ from: from as Step["from"], message: JSON.parse(json) }),
);

/** Holds a message against one in which "…" stands for anything, at the end of a list or object for whatever follows. */
function expectLike(actual: unknown, shown: unknown, path: string): void {
  if (shown === "…") {
    expect(actual, path).toBeDefined();
  } else if (Array.isArray(shown)) {
    expect(Array.isArray(actual), path).toBe(true);
    const isOpen = shown.length > 1 && shown.at(-1) === "…";
    const items = isOpen ? shown.slice(0, -1) : shown;
    const found = actual as unknown[];
    if (isOpen) expect(found.length, path).toBeGreaterThanOrEqual(items.length);
    else expect(found, path).toHaveLength(items.length);
    items.forEach((item, index) => {
      expectLike(found[index], item, `${path}/${index}`);
    });
  } else if (typeof shown === "object" && shown !== null) {
    const { "…": open, ...members } = shown as Record<string, unknown>;
    const found = actual as Record<string, unknown>;
    for (const [name, member] of Object.entries(members)) expectLike(found[name], member, `${path}/${name}`);
    if (open === undefined) expect(Object.keys(found).sort(), path).toEqual(Object.keys(members).sort());
  } else expect(actual, path).toEqual(shown);
}

describe("the page on the host channel", () => {
  test("shows an exchange that the feed leads as it stands there", async () => {
    const toFeed = new PassThrough();
    const fromFeed = new PassThrough();
    const writer = new StreamMessageWriter(fromFeed);
    const environment = nodeEnvironment();
    serve(connectionOver(readerOver(toFeed, writer, 1 << 20), writer), environment, [
      hostChannel(environment),
    ]);
    const sent: unknown[] = [];
    let wake = () => {};
    new StreamMessageReader(fromFeed).listen((message) => {
      sent.push(message);
      wake();
    });
    expect(exchange.map(({ from }) => from)).toContain("Feed");
    for (const [index, { from, message }] of exchange.entries()) {
      if (from === "Client") {
        toFeed.write(framed(message));
        continue;
      }
      while (sent.length === 0) {
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
      expectLike(sent.shift(), message, `message ${index}`);
    }
    expect(sent).toEqual([]);
  });

  test("shows every kind of request, and messages that are what their schemas say", () => {
    const ajv = new Ajv2020({ strict: false });
    const { $defs } = hostJsonSchema() as { $defs: Record<string, { params: object; answer?: object }> };
    for (const { from, message } of exchange) {
      if (from !== "Client") continue;
      const check = ajv.compile($defs[message.method as string].params);
      expect(check(message.params), JSON.stringify(check.errors)).toBe(true);
    }
    for (const method of ["hello", "openShot", "editKeys", "explain", "closeShot", "notesChanged"] as const) {
      expect(exchange.map(({ message }) => message.method)).toContain(methods[method]);
    }
  });

  test("has a reference that lists every message and every refusal", () => {
    const reference = hostReference();
    for (const [method, { what }] of Object.entries(messages)) {
      expect(reference).toContain(`## ${method}\n`);
      expect(reference).toContain(what);
    }
    for (const reason of Object.keys(refusals)) expect(reference).toContain(`| \`${reason}\` |`);
    const codes = Object.values(refusals).map(({ code }) => code);
    expect(new Set(codes).size).toBe(codes.length);
  });
});
