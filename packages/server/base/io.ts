import { availableParallelism } from "node:os";
import { type Bounds, FileRefusal } from "./files/bounds.ts";
import { diskFiles, type Files } from "./files/read.ts";
import { outletOf } from "./output.ts";
import { noPlugins, type Plugins } from "./plugins/plugins.ts";
import { bytesText } from "./size.ts";

/** What a command has to do with the world outside; handed in, so that commands can be run inside a test. */
export interface Io {
  stdout(text: string): void;
  /**
   * Comes once all that was written to stdout has been taken, so that a slow reader holds the writer up.
   * @throws UnreadableError where some of it could not be written
   */
  stdoutTaken(): Promise<void>;
  stderr(text: string): void;
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Whether stdout is a terminal, and how many columns it has. */
  readonly isTTY: boolean;
  readonly columns: number;
  /** Whether stderr, on which progress is shown, is a terminal. */
  readonly stderrIsTTY: boolean;
  /** Milliseconds, from anywhere: how long a run goes on decides whether its progress is told. */
  now(): number;
  readonly files: Files;
  /** Whether a path leads to a file that this run has read, so that it is not written over; none has if left out. */
  readonly hasRead?: ((path: string) => boolean) | undefined;
  /**
   * All of stdin, as bytes.
   * @throws FileRefusal where more comes than the bounds allow
   */
  stdin(within: Pick<Bounds, "most" | "wayOut">): Promise<Uint8Array>;
  /** How many shots this machine can judge at the same time. */
  readonly cores: number;
  /**
   * Has a function called when the user (Ctrl-C) or the system asks to stop, instead of ending at once; a second
   * time ends at once. Gives a function that undoes it.
   */
  onInterrupt(stop: () => void): () => void;
  /** What plug-ins add to the run; none if left out. */
  readonly plugins?: Plugins | undefined;
}

/** What plug-ins add to a run. */
export function pluginsOf({ plugins = noPlugins }: Pick<Io, "plugins">): Plugins {
  return plugins;
}

export function processIo(): Io {
  const outlet = outletOf(process.stdout, "stdout", gone);
  return {
    stdout: (text) => outlet.write(text),
    stdoutTaken: () => outlet.taken(),
    stderr: (text) => void process.stderr.write(text),
    cwd: process.cwd(),
    env: process.env,
    isTTY: process.stdout.isTTY === true,
    columns: process.stdout.columns ?? 100,
    stderrIsTTY: process.stderr.isTTY === true,
    now: () => performance.now(),
    files: diskFiles,
    stdin: readStdin,
    cores: availableParallelism(),
    onInterrupt(stop) {
      const signals = ["SIGINT", "SIGTERM"] as const;
      for (const signal of signals) process.once(signal, stop);
      return () => {
        for (const signal of signals) process.off(signal, stop);
      };
    },
  };
}

/**
 * Whoever reads the output may stop reading, for example `keyside check … | head`: what was found is not known then,
 * so that the run ends as a program does that a closed pipe stopped (128 + SIGPIPE).
 */
export function gone(): void {
  process.exit(141);
}

async function readStdin({ most, wayOut }: Pick<Bounds, "most" | "wayOut">): Promise<Uint8Array> {
  const chunks: Buffer[] = [];
  let length = 0;
  for await (const chunk of process.stdin as AsyncIterable<Buffer>) {
    chunks.push(chunk);
    length += chunk.length;
    if (length > most) throw new FileRefusal(`More than ${bytesText(most)} come over stdin. ${wayOut}`);
  }
  return Buffer.concat(chunks);
}
