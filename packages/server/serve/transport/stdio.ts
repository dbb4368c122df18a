import type { Readable, Writable } from "node:stream";
import { StreamMessageWriter } from "vscode-languageserver/node";
import { connectionOver, serve } from "../feed/connection.ts";
import { type FeedEnvironment, nodeEnvironment } from "../feed/environment.ts";
import type { FeedExtension } from "../feed/extension.ts";
import { hostChannel } from "../host/host-channel.ts";
import { BoundedWriter } from "./bounded-writer.ts";
import { readerOver } from "./reader.ts";
import { whenGone } from "./watch-process.ts";

/** Bytes of the longest message over stdin: a shot of this size is far beyond what an editor opens. */
const messageLimit = 256 * 1024 * 1024;

export interface StdioOptions {
  readonly environment?: FeedEnvironment;
  readonly extensions?: readonly FeedExtension[];
  /** Has a function called when the user or the system asks to stop; gives a function that undoes it. */
  readonly onInterrupt?: (stop: () => void) => () => void;
  /** Process with which the feed ends, beside the one that `initialize` names. */
  readonly processId?: number | undefined;
}

/**
 * `keyside feed --stdio`: serves one client until it says `exit` or goes away, its process ends, or the feed is asked to
 * stop.
 * @returns the exit code: 1 where the client said `exit` without `shutdown`
 */
export async function feedStdio(
  input: Readable,
  output: Writable,
  options: StdioOptions = {},
): Promise<number> {
  const { environment = nodeEnvironment(), onInterrupt = () => () => {} } = options;
  const { extensions = [hostChannel(environment)] } = options;
  const writer = new BoundedWriter(new StreamMessageWriter(output), () => true);
  const undoes: (() => void)[] = [];
  const code = await new Promise<number>((resolve) => {
    const endsWith = (processId: number | null) => {
      const watch = whenGone(processId, environment.timers, () => resolve(0));
      undoes.push(() => watch.cancel());
    };
    const connection = connectionOver(readerOver(input, writer, messageLimit), writer, resolve, endsWith);
    const feed = serve(connection, environment, extensions);
    undoes.push(() => feed.dispose());
    undoes.push(onInterrupt(() => resolve(0)));
    endsWith(options.processId ?? null);
    input.on("end", () => resolve(0));
    // A client that reads no more is gone, though it may have left its own end open.
    output.on("error", () => resolve(0));
  });
  for (const undo of undoes) undo();
  input.destroy();
  return code;
}
