/** Display colours of nodes, from the materials of their meshes. */

/** What is found of colours: "#rrggbb" by the node's index, and what could not be read. */
export interface NodeColours {
  readonly of: ReadonlyMap<number, string>;
  readonly remarks: readonly string[];
}

type Entry = Readonly<Record<string, unknown>>;

/**
 * The colours of a document's nodes: the base colour of the material of all parts of a node's mesh, where that is one
 * colour. That of a skinned mesh is that of the topmost joints of its skin, which move it. Whatever is not as the format
 * has it counts as not there: nothing that is judged hangs on it.
 * @param data the document as it was parsed
 */
export function coloursOf(data: unknown): NodeColours {
  const [nodes, meshes, materials, skins] = ["nodes", "meshes", "materials", "skins"].map((name) =>
    entriesIn((data as Entry | null)?.[name]),
  );
  const parents = parentsOf(nodes);
  const found = new Map<number, Set<string>>();
  let [pictured, several] = [0, 0];
  nodes.forEach((node, index) => {
    const parts = entriesIn(entryAt(meshes, node["mesh"])["primitives"]);
    const own = parts.map((part) => entryAt(materials, part["material"]));
    if (own.length === 0 || parts.some(({ material }) => material === undefined)) return;
    if (own.some((material) => isEntry(surfaceOf(material)["baseColorTexture"]))) {
      pictured++;
      return;
    }
    const colours = new Set(own.map(colourOf));
    const [colour] = colours;
    if (colours.size > 1 || colour === null) {
      several++;
      return;
    }
    const joints = entryAt(skins, node["skin"])["joints"];
    const carried = Array.isArray(joints) ? topmost(joints, parents) : [index];
    for (const at of carried) found.set(at, (found.get(at) ?? new Set()).add(colour));
  });
  const of = new Map<number, string>();
  for (const [node, colours] of found) {
    const [colour] = colours;
    if (colours.size === 1) of.set(node, colour);
    else several++;
  }
  return {
    of,
    remarks: [
      ...counted(pictured, "has its colour from a picture", "have their colours from pictures"),
      ...counted(several, "has several colours", "have several colours"),
    ],
  };
}

function counted(count: number, one: string, many: string): string[] {
  if (count === 0) return [];
  return [`${count === 1 ? `One mesh ${one}` : `${count} meshes ${many}`}; none is read of it.`];
}

function isEntry(value: unknown): value is Entry {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function entriesIn(value: unknown): readonly Entry[] {
  return Array.isArray(value) ? value.map((one) => (isEntry(one) ? one : {})) : [];
}

function entryAt(list: readonly Entry[], index: unknown): Entry {
  return typeof index === "number" ? (list[index] ?? {}) : {};
}

function surfaceOf(material: Entry): Entry {
  const { pbrMetallicRoughness: surface } = material;
  return isEntry(surface) ? surface : {};
}

/** A material's base colour, white where it says none (glTF 2.0, 5.22); null where it is no colour. */
function colourOf(material: Entry): string | null {
  const { baseColorFactor: factor = [1, 1, 1, 1] } = surfaceOf(material);
  if (!Array.isArray(factor) || factor.length !== 4) return null;
  const parts = factor.slice(0, 3);
  if (!parts.every((part) => typeof part === "number" && part >= 0 && part <= 1)) return null;
  return `#${parts.map(displayed).join("")}`;
}

/** Linear light as two digits of sRGB (IEC 61966-2-1): glTF's factors are linear. */
function displayed(light: number): string {
  const part = light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
  return Math.round(255 * part)
    .toString(16)
    .padStart(2, "0");
}

function parentsOf(nodes: readonly Entry[]): ReadonlyMap<number, number> {
  const parents = new Map<number, number>();
  nodes.forEach(({ children }, index) => {
    if (!Array.isArray(children)) return;
    for (const child of children)
      if (typeof child === "number" && !parents.has(child)) parents.set(child, index);
  });
  return parents;
}

/** The joints whose parents are none of them. */
function topmost(joints: readonly unknown[], parents: ReadonlyMap<number, number>): number[] {
  const all = new Set(joints);
  return joints.filter((joint): joint is number => typeof joint === "number" && !all.has(parents.get(joint)));
}
