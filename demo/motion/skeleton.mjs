// @ts-check
/**
 * A hierarchy of nodes, posed by axis rotations in degrees and places of its roots.
 * @typedef {{ id: string, parent?: string, translation: number[], rotationOrder?: string, rotation?: number[] }} Node
 * @typedef {Record<string, number[]>} Angles degrees about x, y, z per node; left out is the rest rotation
 * @typedef {Map<string, { position: number[], orientation: number[] }>} World
 */
import { add, fromAngles, multiply, rotate } from "./vector.mjs";

/**
 * World positions and orientations of all nodes.
 * @param {Node[]} nodes parents before children
 * @param {Angles} angles
 * @param {Record<string, number[]>} places places that replace a node's translation
 * @returns {World}
 */
export function poseOf(nodes, angles, places) {
  /** @type {World} */
  const world = new Map();
  for (const node of nodes) {
    const local = fromAngles(node.rotationOrder ?? "xyz", angles[node.id] ?? node.rotation ?? [0, 0, 0]);
    const parent = node.parent === undefined ? undefined : world.get(node.parent);
    const at = places[node.id] ?? node.translation;
    world.set(
      node.id,
      parent === undefined
        ? { position: at, orientation: local }
        : {
            position: add(parent.position, rotate(parent.orientation, at)),
            orientation: multiply(parent.orientation, local),
          },
    );
  }
  return world;
}

/** @param {World} world @param {string} id @returns {{ position: number[], orientation: number[] }} */
export function nodeIn(world, id) {
  const found = world.get(id);
  if (found === undefined) throw new Error(`There is no node "${id}" in this skeleton.`);
  return found;
}
