import { request } from "node:http";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { WebSocket } from "ws";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { linkProtocol } from "../../../../packages/desk/link.ts";
import { poppingDocument } from "../../cli/shots-for-tests.ts";
import { LaidDesk, token } from "./desk-for-tests.ts";

let laid: LaidDesk;
beforeAll(async () => {
  laid = await LaidDesk.open({ "pier.curves.json": writeDocument(poppingDocument()) });
});
afterAll(() => laid.close());

/** Asks over plain HTTP, with whatever headers. */
function asked(path: string, headers: Record<string, string> = {}, method = "GET") {
  return new Promise<{ status: number; headers: Record<string, unknown>; body: string }>(
    (resolve, reject) => {
      const sent = request({ host: "127.0.0.1", port: laid.port, path, method, headers }, (response) => {
        let body = "";
        response.setEncoding("utf8").on("data", (piece: string) => {
          body += piece;
        });
        response.on("end", () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, body }),
        );
      });
      sent.on("error", reject);
      sent.end();
    },
  );
}

/** Whether a link is opened, and with which status it is refused. */
function linked(protocols: string[], options: { origin?: string; host?: string; path?: string } = {}) {
  const { origin, host, path = "/link" } = options;
  const socket = new WebSocket(`ws://127.0.0.1:${laid.port}${path}`, protocols, {
    ...(origin === undefined ? {} : { origin }),
    headers: host === undefined ? {} : { host },
  });
  return new Promise<number | "open">((resolve) => {
    socket.on("open", () => {
      socket.close();
      resolve("open");
    });
    socket.on("unexpected-response", (_, response) => {
      response.resume();
      resolve(response.statusCode ?? 0);
      socket.terminate();
    });
    socket.on("error", () => {});
  });
}

describe("who is let in", () => {
  test("a link is opened with the token alone", async () => {
    expect(await linked([linkProtocol, token])).toBe("open");
    expect(await linked([linkProtocol])).toBe(403);
    expect(await linked([linkProtocol, `${token}x`])).toBe(403);
    expect(await linked([token])).toBe(403);
    expect(await linked([linkProtocol, token], { path: "/other" })).toBe(403);
  });

  test("a page of another origin is not let in, even with the token", async () => {
    const own = `http://127.0.0.1:${laid.port}`;
    expect(await linked([linkProtocol, token], { origin: own })).toBe("open");
    expect(await linked([linkProtocol, token], { origin: "http://127.0.0.1:1" })).toBe(403);
    expect(await linked([linkProtocol, token], { origin: "https://pages.example" })).toBe(403);
    expect(await linked([linkProtocol, token], { origin: "null" })).toBe(403);
  });

  test("a name that was made to lead here is refused: for the page's files and for the link", async () => {
    const host = `pages.example:${laid.port}`;
    expect((await asked("/", { host })).status).toBe(403);
    expect(await linked([linkProtocol, token], { host, origin: `http://${host}` })).toBe(403);
    expect((await asked("/", { host: `localhost:${laid.port}` })).status).toBe(200);
  });
});

describe("what is served", () => {
  test("is the page's files, by GET alone", async () => {
    expect(await asked("/")).toMatchObject({ status: 200, body: "<title>desk</title>" });
    expect((await asked("/pier.curves.json")).status).toBe(404);
    expect((await asked("/../package.json")).status).toBe(404);
    for (const method of ["POST", "PUT", "DELETE", "OPTIONS"])
      expect((await asked("/", {}, method)).status).toBe(405);
  });

  test("comes with a policy that lets no code run but its own, and no network be asked but the desk", async () => {
    const { headers } = await asked("/");
    const policy = String(headers["content-security-policy"]);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self';");
    expect(policy).not.toContain("unsafe");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).toContain(`connect-src 'self' ws://127.0.0.1:${laid.port} ws://localhost:${laid.port};`);
    expect(headers).toMatchObject({
      "x-content-type-options": "nosniff",
      "referrer-policy": "no-referrer",
      "cache-control": "no-store",
    });
  });
});

describe("what is no message", () => {
  test("is told so, and the link stays", async () => {
    const page = await laid.client();
    page.say("{");
    expect((await page.next("trouble")).message).toContain("no JSON");
    page.say(JSON.stringify({ type: "edit", request: 77, base: 0, group: "a", label: "b", edits: [] }));
    const refused = await page.next("answer", ({ request }) => request === 77);
    expect(refused).toMatchObject({ ok: false, reason: "misshapen" });
    page.say(
      JSON.stringify({ type: "keys", request: 78, of: [{ node: "no such node", channel: "rotation.z" }] }),
    );
    expect(await page.next("answer", ({ request }) => request === 78)).toMatchObject({
      ok: true,
      keys: [{ keys: [] }],
    });
  });
});
