/** How each tier's name is painted. */
export const tierPaint = {
  broken: ["bold", "magenta"],
  major: ["bold", "red"],
  minor: ["yellow"],
  polish: ["cyan"],
} as const;
