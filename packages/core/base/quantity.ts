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

/** A setting's value as it was chosen: the number and the unit it is in (a unit of the same kind as declared). */
export interface ChosenValue {
  readonly value: number;
  readonly unit: Unit;
}
