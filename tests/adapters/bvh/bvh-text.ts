/** BVH text of one root with six channels and one joint with three, and the given motion lines. */
export function bvhText(
  rows: readonly string[],
  head: Partial<{ frames: string; time: string }> = {},
): string {
  return [
    "HIERARCHY",
    "ROOT Hips",
    "{",
    "  OFFSET 0 0 0",
    "  CHANNELS 6 Xposition Yposition Zposition Zrotation Yrotation Xrotation",
    "  JOINT Chest",
    "  {",
    "    OFFSET 0 5 0",
    "    CHANNELS 3 Zrotation Xrotation Yrotation",
    "    End Site",
    "    {",
    "      OFFSET 0 4 1",
    "    }",
    "  }",
    "}",
    "MOTION",
    head.frames ?? `Frames: ${rows.length}`,
    head.time ?? "Frame Time: 0.0083333",
    ...rows,
  ]
    .filter((line) => line !== "")
    .join("\n");
}

/** A row of nine numbers, each a tenth more than the one before. */
export function rowFrom(start: number): string {
  return Array.from({ length: 9 }, (_, i) => (start + i / 10).toFixed(4)).join(" ");
}

/** Line and column, both from 1, of an offset. */
export function lineAndColumn(text: string, offset: number): [number, number] {
  const before = text.slice(0, offset).split(/\r\n|\r|\n/);
  return [before.length, (before.at(-1) as string).length + 1];
}
