import type { Pending, Timers } from "../feed/environment.ts";

/** Milliseconds between two looks at whether a process is still there. */
const pause = 500;

/**
 * Waits until a process has gone. One that is not there from the start is not waited for: it is the process of another
 * machine or container.
 * @param processId as the system numbers it; null for none
 */
export function whenGone(processId: number | null, timers: Timers, gone: () => void): Pending {
  let waiting: Pending | null = null;
  const look = () => {
    if (isThere(processId)) waiting = timers.after(pause, look);
    else gone();
  };
  if (isThere(processId)) look();
  return { cancel: () => waiting?.cancel() };
}

function isThere(processId: number | null): boolean {
  if (processId === null || processId < 1) return false;
  try {
    // Signal 0 asks and does nothing.
    process.kill(processId, 0);
    return true;
  } catch (error) {
    // A process of somebody else may not be asked, but is there.
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
