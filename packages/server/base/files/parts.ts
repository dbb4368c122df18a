import { hash, randomBytes } from "node:crypto";
import { readdirSync, readlinkSync, rmSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";

/*
 * A part is a file that is being written, beside the file that it will become. Its name cannot be foreseen, and tells
 * which process of which machine writes it, so that what a killed run left behind can be told from what is under way.
 */

const form = /^\.keyside-([0-9a-f]{8})-(\d{1,10})-[0-9a-f]{24}\.part$/;

/** Whether a file is a part, by its name. */
export function isPart(name: string): boolean {
  return form.test(name);
}

/** Parts of this process, which are taken away as it ends, however it ends of itself. */
const own = new Set<string>();

let machine: string | null = null;

/** Processes are counted per machine, and per container that counts its own. */
function machineMark(): string {
  if (machine !== null) return machine;
  let space = "";
  try {
    space = readlinkSync("/proc/self/ns/pid");
  } catch {
    // Only Linux tells.
  }
  machine = hash("sha256", `${hostname()}\n${space}`).slice(0, 8);
  return machine;
}

/** A new part in a folder. Whoever makes it calls {@link forgetPart} once it is gone. */
export function newPart(folder: string): string {
  const path = join(
    folder,
    `.keyside-${machineMark()}-${process.pid}-${randomBytes(12).toString("hex")}.part`,
  );
  if (own.size === 0) process.on("exit", removeOwn);
  own.add(path);
  return path;
}

/** A part has become a file, or is to be taken away. */
export function forgetPart(path: string): void {
  rmSync(path, { force: true });
  own.delete(path);
  if (own.size === 0) process.off("exit", removeOwn);
}

function removeOwn(): void {
  for (const path of own) {
    try {
      rmSync(path, { force: true });
    } catch {
      // The next run sweeps it.
    }
  }
}

/** Takes away the parts in a folder whose process is no more: what a run left behind that was killed. */
export function sweepParts(folder: string): void {
  try {
    for (const name of readdirSync(folder)) {
      const [, mark, pid] = form.exec(name) ?? [];
      if (mark === machineMark() && isGone(Number(pid))) rmSync(join(folder, name), { force: true });
    }
  } catch {
    // A folder that cannot be looked into, or of others: nothing is lost by what stays.
  }
}

function isGone(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    return (error as { code?: unknown }).code === "ESRCH";
  }
}
