export { recompute } from "./frozen-hold.ts";
