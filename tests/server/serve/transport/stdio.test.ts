import { PassThrough } from "node:stream";
import { describe, expect, test } from "vitest";
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { feedStdio } from "../../../../packages/server/serve/transport/stdio.ts";

function start() {
  const [input, output] = [new PassThrough(), new PassThrough()];
  const ended = feedStdio(input, output);
  const client = createProtocolConnection(new StreamMessageReader(output), new StreamMessageWriter(input));
  client.listen();
  return { input, output, ended, client };
}
const hello = { processId: null, rootUri: null, capabilities: {} };

describe("a feed over streams", () => {
  test("ends with 0 after shutdown and exit", async () => {
    const { ended, client } = start();
    const { serverInfo } = await client.sendRequest<{ serverInfo: { name: string } }>("initialize", hello);
    expect(serverInfo.name).toBe("keyside");
    await client.sendRequest("shutdown");
    await client.sendNotification("exit");
    expect(await ended).toBe(0);
    client.dispose();
  });

  test("ends with 1 where exit comes without shutdown", async () => {
    const { ended, client } = start();
    await client.sendRequest("initialize", hello);
    await client.sendNotification("exit");
    expect(await ended).toBe(1);
    client.dispose();
  });

  test("ends when its input ends, in the middle of a message too", async () => {
    const { ended, client, input } = start();
    await client.sendRequest("initialize", hello);
    input.end("Content-Length: 100\r\n\r\nhalf");
    expect(await ended).toBe(0);
    client.dispose();
  });
});
