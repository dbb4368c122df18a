import type { Channel } from "@keyside/core/curves";
import type { DeskNode, DeskShot } from "../link.ts";

/** What a number of a channel is counted in, as it stands beside it. */
export function unitOf(channel: Channel, shot: DeskShot): string {
  if (channel === "rotation") return "";
  if (channel.startsWith("rotation")) return shot.angleUnit === "degrees" ? "°" : "rad";
  if (channel.startsWith("scale")) return "×";
  const known: Readonly<Record<string, string>> = { "1": "m", "0.01": "cm", "0.001": "mm" };
  return known[String(shot.metresPerUnit)] ?? "units";
}

/** "hand_l rotation.x (left hand)". */
export function channelTitle(node: DeskNode | undefined, id: string, channel: Channel): string {
  const part = node?.part ?? null;
  return part === null ? `${id} ${channel}` : `${id} ${channel} (${part})`;
}

/** A number as it is read out: no digits that say nothing. */
export function numberText(value: number): string {
  return String(Math.round(value * 1000) / 1000 + 0).replace("-", "−");
}

/** "frame 12", "frames 12 to 20". */
export function framesText([from, to]: readonly [number, number]): string {
  return from === to ? `frame ${numberText(from)}` : `frames ${numberText(from)} to ${numberText(to)}`;
}
