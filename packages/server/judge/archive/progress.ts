import { counted } from "../../base/counted.ts";

/** Where progress is shown, and when it is. */
export interface ProgressPlace {
  write(text: string): void;
  readonly isTTY: boolean;
  readonly columns: number;
  /** Milliseconds, from anywhere. */
  now(): number;
}

/** Tells how far a run is: a bar on a terminal, a line now and then anywhere else. */
export interface Progress {
  /** One more input is done. */
  step(notes: number): void;
  /** Takes the bar away, so that something else can be written. */
  clear(): void;
}

/** Milliseconds between two pictures of the bar, and two lines. */
const barEvery = 100;
const lineEvery = 10_000;

/** A run that is over sooner than this shows none. */
const quietFor = 500;

const barWidth = 24;

export const noProgress: Progress = { step() {}, clear() {} };

export function progressOf(total: number, place: ProgressPlace): Progress {
  const start = place.now();
  let last = place.isTTY ? start + quietFor - barEvery : start;
  let done = 0;
  let notes = 0;
  let isShown = false;
  const clear = () => {
    if (isShown) place.write("\r\u001b[2K");
    isShown = false;
  };
  return {
    step(more) {
      done++;
      notes += more;
      const now = place.now();
      if (now - last < (place.isTTY ? barEvery : lineEvery)) return;
      last = now;
      const left = ((now - start) / done) * (total - done);
      const text = `${done} of ${counted(total, "shot")}, ${counted(notes, "note")}, about ${lasting(left)} left`;
      if (!place.isTTY) {
        place.write(`keyside: ${text}\n`);
        return;
      }
      clear();
      const filled = Math.round((done / total) * barWidth);
      const bar = `[${"#".repeat(filled)}${"-".repeat(barWidth - filled)}] ${text}`;
      place.write(bar.slice(0, Math.max(0, place.columns - 1)));
      isShown = true;
    },
    clear,
  };
}

/** A time as a person says it: "40 s", "3 min 20 s", "2 h 5 min". */
export function lasting(milliseconds: number): string {
  const seconds = Math.round(milliseconds / 1000);
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return seconds % 60 === 0 ? `${minutes} min` : `${minutes} min ${seconds % 60} s`;
  const hours = Math.floor(minutes / 60);
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}
