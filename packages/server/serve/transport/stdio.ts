import type { Readable, Writable } from "node:stream";
import { StreamMessageWriter } from "vscode-languageserver/node";
import { connectionOver, serve } from "../feed/connection.ts";
import { type FeedEnvironment, nodeEnvironment } from "../feed/environment.ts";
import type { FeedExtension } from "../feed/extension.ts";
import { hostChannel } from "../host/host-channel.ts";
import { BoundedWriter } from "./bounded-writer.ts";
import { readerOver } from "./reader.ts";

/** Bytes of the longest message over stdin: a shot of this size is far beyond what an editor opens. */
const messageLimit = 256 * 1024 * 1024;

/**
 * `keyside feed --stdio`: serves one client until it says `exit` or goes away.
 * @returns the exit code: 1 where the client said `exit` without `shutdown`
 */
export async function feedStdio(
  input: Readable,
  output: Writable,
  environment: FeedEnvironment = nodeEnvironment(),
  extensions: readonly FeedExtension[] = [hostChannel(environment)],
): Promise<number> {
  const writer = new BoundedWriter(new StreamMessageWriter(output), () => true);
  // A client that is gone reads no more; the end of its input says so.
  output.on("error", () => {});
  const code = await new Promise<number>((resolve) => {
    const connection = connectionOver(readerOver(input, writer, messageLimit), writer, (ended) => {
      feed.dispose();
      resolve(ended);
    });
    const feed = serve(connection, environment, extensions);
    input.on("end", () => {
      feed.dispose();
      resolve(0);
    });
  });
  input.destroy();
  return code;
}
