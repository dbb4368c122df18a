import type { Shot } from "@keyside/core";
import { degreesPerRadian, isUsable } from "@keyside/core/internal";
import type { Problems } from "../problems.ts";
import type { GltfDocument, GltfNode } from "./document.ts";

type NodeSpec = Shot["header"]["nodes"][number];

/** Nodes of a glTF document as a hierarchy; ids in the order of the document's nodes. */
export function nodesOf(document: GltfDocument, problems: Problems, remarks: string[]): NodeSpec[] {
  const nodes = document.nodes ?? [];
  const parents = parentsOf(nodes, problems);
  const taken = new Set<string>();
  let renamed = 0;
  const ids = nodes.map((node, i) => {
    const name = node.name === undefined || node.name === "" ? `node_${i}` : node.name;
    let id = name;
    for (let n = 2; taken.has(id); n++) id = `${name}_${n}`;
    if (id !== name && renamed++ < 3) remarks.push(`Two nodes are called "${name}"; one is read as "${id}".`);
    taken.add(id);
    return id;
  });
  if (renamed > 3) remarks.push(`${renamed - 3} more nodes have names that others have.`);
  return nodes.map((node, i) => {
    const parent = parents.get(i);
    const { translation, rotation, scale } = restOf(node, i, problems);
    return {
      id: ids[i],
      ...(parent === undefined ? {} : { parent: ids[parent] }),
      ...(translation === null ? {} : { translation }),
      ...(rotation === null ? {} : { rotation }),
      ...(scale === null ? {} : { scale }),
    };
  });
}

/** The parent of each node that has one. A chain of any length costs its length, not its square. */
function parentsOf(nodes: readonly GltfNode[], problems: Problems): Map<number, number> {
  const parents = new Map<number, number>();
  const refuse = (node: number, child: number) => {
    const message = `Node ${node} names the child ${child}, which is missing, has a parent already or stands above it.`;
    problems.add("node-parent", message, 0, 0, `nodes/${node}`);
  };
  nodes.forEach((node, i) => {
    for (const child of node.children ?? []) {
      if (nodes[child] === undefined || parents.has(child)) refuse(i, child);
      else parents.set(child, i);
    }
  });
  // Upward from each node until one that has been seen; one that was seen on this very way is above itself.
  const way = new Int32Array(nodes.length);
  nodes.forEach((_, i) => {
    let above = i;
    for (let at: number | undefined = i; at !== undefined && way[at] !== i + 1; at = parents.get(at)) {
      if (way[at] !== 0) return;
      way[at] = i + 1;
      above = at;
    }
    const parent = parents.get(above);
    if (parent === undefined) return;
    parents.delete(above);
    refuse(parent, above);
  });
  return parents;
}

type Vector = [number, number, number];

interface Rest {
  readonly translation: Vector | null;
  /** Degrees about x, y, z, in the order Rx · Ry · Rz. */
  readonly rotation: Vector | null;
  readonly scale: Vector | null;
}

function restOf(node: GltfNode, index: number, problems: Problems): Rest {
  const usable = (numbers: readonly number[] | undefined, count: number, what: string) => {
    if (numbers === undefined) return null;
    if (numbers.length === count && numbers.every(isUsable)) return numbers;
    problems.add(
      "node",
      `The ${what} of node ${index} is not ${count} numbers.`,
      0,
      0,
      `nodes/${index}/${what}`,
    );
    return null;
  };
  const matrix = usable(node.matrix, 16, "matrix");
  if (matrix !== null) return restOfMatrix(matrix);
  const rotation = usable(node.rotation, 4, "rotation");
  return {
    translation: usable(node.translation, 3, "translation") as Vector | null,
    rotation: rotation === null ? null : eulerOfMatrix(matrixOfQuaternion(rotation)),
    scale: usable(node.scale, 3, "scale") as Vector | null,
  };
}

/** Column-major matrix as translation, rotation and scale; glTF allows only matrices that can be taken apart so. */
function restOfMatrix(m: readonly number[]): Rest {
  const scale = [0, 4, 8].map((column) => Math.hypot(m[column], m[column + 1], m[column + 2])) as Vector;
  const determinant =
    m[0] * (m[5] * m[10] - m[6] * m[9]) -
    m[4] * (m[1] * m[10] - m[2] * m[9]) +
    m[8] * (m[1] * m[6] - m[2] * m[5]);
  if (determinant < 0) scale[0] = -scale[0];
  const rows = [0, 1, 2].map((row) => [0, 1, 2].map((column) => m[4 * column + row] / (scale[column] || 1)));
  return { translation: [m[12], m[13], m[14]], rotation: eulerOfMatrix(rows), scale };
}

function matrixOfQuaternion(q: readonly number[]): number[][] {
  const length = Math.hypot(...q) || 1;
  const [x, y, z, w] = q.map((part) => part / length);
  return [
    [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
    [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
    [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
  ];
}

/** Angles of Rx · Ry · Rz in degrees; with y at ±90° the turn about z is 0. */
function eulerOfMatrix(m: readonly (readonly number[])[]): Vector {
  const y = Math.asin(Math.max(-1, Math.min(1, m[0][2])));
  const isLocked = Math.abs(m[0][2]) > 1 - 1e-12;
  const x = isLocked ? Math.atan2(m[2][1], m[1][1]) : Math.atan2(-m[1][2], m[2][2]);
  const z = isLocked ? 0 : Math.atan2(-m[0][1], m[0][0]);
  return [x * degreesPerRadian, y * degreesPerRadian, z * degreesPerRadian];
}
