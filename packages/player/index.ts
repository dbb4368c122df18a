import { KeysidePlayer } from "./element.ts";

export type {
  Motion,
  MotionCamera,
  MotionFigure,
  MotionFix,
  MotionHidden,
  MotionNote,
  MotionStrength,
  MotionStroke,
  MotionThing,
} from "./motion.ts";
export type { Drawing } from "./pencil.ts";
export type { Showing } from "./showing.ts";
export type { From } from "./stage.ts";
export { KeysidePlayer };

if (customElements.get("keyside-player") === undefined)
  customElements.define("keyside-player", KeysidePlayer);
