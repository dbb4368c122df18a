import type { Channel } from "@keyside/core";

/** What a column or row of a table drives: a channel, or one of the four numbers of the quaternion `rotation`. */
export interface Driven {
  readonly channel: Channel;
  /** 0 to 3 for `rotation`, else 0. */
  readonly component: number;
}

const quaternionParts = ["x", "y", "z", "w"];

/** Reads a channel's name as tables write it: `translation.x`, `rotation.z`, `scale.y`, `quaternion.w`. */
export function drivenBy(name: string): Driven | null {
  const match = /^(translation|rotation|scale|quaternion)\.([xyzw])$/i.exec(name.trim());
  if (match === null) return null;
  const [kind, part] = [match[1].toLowerCase(), match[2].toLowerCase()];
  if (kind === "quaternion") return { channel: "rotation", component: quaternionParts.indexOf(part) };
  return part === "w" ? null : { channel: `${kind}.${part}` as Channel, component: 0 };
}

/** The names that tables give a channel, one per number of a key. */
export function namesOf(channel: Channel): readonly string[] {
  return channel === "rotation" ? quaternionParts.map((part) => `quaternion.${part}`) : [channel];
}

/** Columns of a key's handles: frames and value of the one in, frames and value of the one out; slopes of cubic keys are values. */
export const handleColumns = ["in.frames", "in.value", "out.frames", "out.value"] as const;
