/** What an id names. */
export type IdKind = "node" | "figure" | "surface" | "camera";

/** The lists of a document whose entries have ids, by what these name. */
export const idLists = { node: "nodes", figure: "figures", surface: "surfaces", camera: "cameras" } as const;

/**
 * Where a document names something of itself: paths, in which an asterisk is any position or name, and what may be
 * named there, the first kind first. Checking, completing, finding and renaming all go by this.
 */
export const references: Readonly<Record<string, readonly IdKind[]>> = {
  "nodes/*/parent": ["node"],
  "curves/*/node": ["node"],
  "figures/*/parts/*": ["node"],
  "figures/*/parts/*/*": ["node"],
  "figures/*/limbs/*/nodes/*": ["node"],
  "figures/*/limbs/*/sole/heel": ["node"],
  "figures/*/limbs/*/sole/heel/node": ["node"],
  "figures/*/limbs/*/sole/ball": ["node"],
  "figures/*/limbs/*/sole/ball/node": ["node"],
  "figures/*/limbs/*/sole/toe": ["node"],
  "figures/*/limbs/*/sole/toe/node": ["node"],
  "surfaces/*/node": ["node"],
  "contacts/*/node": ["node"],
  "contacts/*/with": ["surface", "node"],
  "surroundings/*/below": ["surface"],
  "props/*/node": ["node"],
  "props/*/heldBy/*/node": ["node"],
  "cameras/*/node": ["node"],
  "gazes/*/figure": ["figure"],
  "gazes/*/at": ["node"],
  "propulsors/*/figure": ["figure"],
  "propulsors/*/nodes/*": ["node"],
  "sounds/*/node": ["node"],
  "waivers/*/node": ["node"],
};

/** Where stretches of frames stand: `[first, last]`. */
export const framePaths: readonly string[] = [
  "nodes/*/visible/*",
  "contacts/*/frames",
  "surroundings/*/frames",
  "props/*/heldBy/*/frames",
  "cameras/*/frames",
  "gazes/*/frames",
  "stages/*/frames",
  "waivers/*/frames",
];

/**
 * Gives every value that stands at a path with asterisks to a function, with its own path.
 * @param root a document's members
 */
export function eachAt(root: unknown, pattern: string, each: (value: unknown, path: string) => void): void {
  walk(root, pattern.split("/"), 0, "", each);
}

function walk(
  value: unknown,
  steps: readonly string[],
  depth: number,
  path: string,
  each: (value: unknown, path: string) => void,
): void {
  if (depth === steps.length) {
    if (value !== undefined) each(value, path);
    return;
  }
  if (typeof value !== "object" || value === null) return;
  const step = steps[depth];
  const within = (name: string) => (path === "" ? name : `${path}/${name}`);
  if (step !== "*") {
    if (Object.hasOwn(value, step))
      walk((value as Record<string, unknown>)[step], steps, depth + 1, within(step), each);
    return;
  }
  for (const [name, member] of Object.entries(value)) walk(member, steps, depth + 1, within(name), each);
}
