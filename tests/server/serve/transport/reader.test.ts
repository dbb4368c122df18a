import { PassThrough } from "node:stream";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Refusal, StreamReader } from "../../../../packages/server/serve/transport/reader.ts";

function read(chunks: readonly (string | Buffer)[], limit = 1000): { taken: unknown[]; refused: Refusal[] } {
  const taken: unknown[] = [];
  const refused: Refusal[] = [];
  const stream = new PassThrough();
  new StreamReader(stream, { limit, refuse: (refusal) => void refused.push(refusal) }).listen(
    (message) => void taken.push(message),
  );
  // What is pushed reaches the listener at once.
  for (const chunk of chunks) stream.emit("data", Buffer.from(chunk as Buffer));
  return { taken, refused };
}

const message = (value: unknown) => {
  const body = Buffer.from(typeof value === "string" ? value : JSON.stringify(value));
  return Buffer.concat([Buffer.from(`Content-Length: ${body.length}\r\n\r\n`), body]);
};
const ping = (id: number) => ({ jsonrpc: "2.0", id, method: "ping", params: { text: "é😀" } });

describe("reading messages", () => {
  test("takes messages however the stream cuts them", () => {
    const all = Buffer.concat([message(ping(1)), message(ping(2)), message(ping(3))]);
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(all.length), { maxLength: 12 }), (cuts) => {
        const at = [0, ...cuts.sort((a, b) => a - b), all.length];
        const { taken, refused } = read(at.slice(1).map((end, i) => all.subarray(at[i], end)));
        expect(refused).toEqual([]);
        expect(taken).toEqual([ping(1), ping(2), ping(3)]);
      }),
    );
  });

  test.each([
    ["no JSON", message("{ not json"), -32700],
    ["half a message", message('{"jsonrpc":"2.0","method":'), -32700],
    ["a header without a length", "X: 1\r\n\r\n", -32700],
    ["a length that is none", "Content-Length: many\r\n\r\n", -32700],
    ["a length below nothing", "Content-Length: -5\r\n\r\n", -32700],
    ["noise", "hello, are you there?\r\n\r\n", -32700],
    ["noise before a header", "hello ", -32700],
    ["a lone number", message(5), -32600],
    ["nothing", message("null"), -32600],
    ["a batch", message([ping(1)]), -32600],
    ["a method that is no text", message({ jsonrpc: "2.0", id: 1, method: 5 }), -32600],
    ["an id that is an object", message({ jsonrpc: "2.0", id: {}, method: "a" }), -32600],
    ["params that are a number", message({ jsonrpc: "2.0", id: 1, method: "a", params: 5 }), -32600],
    ["an answer to nothing", message({ jsonrpc: "2.0" }), -32600],
    ["a cancellation of nothing", message({ jsonrpc: "2.0", method: "$/cancelRequest" }), -32600],
    ["a message of no length", "Content-Length: 0\r\n\r\n", -32700],
  ])("refuses %s, and takes the next message", (_, bad, code) => {
    const { taken, refused } = read([bad, message(ping(1)), message(ping(2))]);
    expect(taken).toEqual([ping(1), ping(2)]);
    expect(refused.map((refusal) => refusal.code)).toEqual([code]);
  });

  test("finds its way back from a length that is too short", () => {
    const body = JSON.stringify(ping(1));
    const { taken, refused } = read([`Content-Length: 10\r\n\r\n${body}`, message(ping(2))]);
    expect(taken).toEqual([ping(2)]);
    expect(refused.length).toBeGreaterThan(0);
  });

  test("passes over a message that is too long without keeping it", () => {
    const long = message({ jsonrpc: "2.0", id: 1, method: "a", params: { text: "x".repeat(5000) } });
    const { taken, refused } = read([long.subarray(0, 700), long.subarray(700), message(ping(2))]);
    expect(taken).toEqual([ping(2)]);
    expect(refused).toHaveLength(1);
    expect(refused[0].message).toContain("longer than the 1000 bytes");
  });

  test("does not keep noise that goes on and on", () => {
    const { taken, refused } = read([
      ...Array.from({ length: 50 }, () => "x".repeat(1000)),
      message(ping(1)),
    ]);
    expect(taken).toEqual([ping(1)]);
    expect(refused.length).toBeGreaterThan(0);
  });

  test("never throws, whatever arrives", () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 200 }), { maxLength: 10 }), (chunks) => {
        read(chunks.map((chunk) => Buffer.from(chunk)));
      }),
    );
  });
});
