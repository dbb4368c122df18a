const units = ["B", "kB", "MB", "GB", "TB"] as const;

/** A number of bytes in words: "900 B", "4 kB", "1.95 GB". */
export function bytesText(bytes: number): string {
  let value = bytes;
  let unit = 0;
  while (value >= 1000 && unit < units.length - 1) {
    value /= 1000;
    unit++;
  }
  return `${unit === 0 ? value : Number(value.toPrecision(3))} ${units[unit]}`;
}

/** Bytes from "500 MB", "2GB"; null where it is no size. */
export function bytesFrom(text: string): number | null {
  const match = /^\s*(\d{1,15}(?:\.\d{1,15})?)\s*([kKMGT]?B)\s*$/.exec(text);
  if (match === null) return null;
  const unit = match[2] === "KB" ? "kB" : match[2];
  return Math.floor(Number(match[1]) * 1000 ** units.indexOf(unit as (typeof units)[number]));
}
