/** Units in which a setting may be declared. Lengths may also be given in body heights, "H". */
export type Unit =
  | "m"
  | "H"
  | "m/s"
  | "m/s^2"
  | "H/s"
  | "deg"
  | "deg/s"
  | "s"
  | "Hz"
  | "g"
  | "frames"
  | "ratio"
  | "share"
  | "count";
