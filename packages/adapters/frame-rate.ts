import type { FrameRate } from "@keyside/core";

/** Rates in common use, the likelier first. */
const usual: readonly FrameRate[] = [
  ...[24, 25, 30, 60, 120, 100, 50, 48, 240, 90, 12, 15, 72, 75, 144, 200].map(whole),
  ...[24, 30, 60, 120, 48].map((rate) => ({ numerator: rate * 1000, denominator: 1001 })),
];

function whole(rate: number): FrameRate {
  return { numerator: rate, denominator: 1 };
}

function ratio(rate: FrameRate): number {
  return rate.numerator / rate.denominator;
}

/**
 * The frame rate that a printed frame time stands for. A printed time was rounded or cut at its last digit, so any
 * rate within that digit will do: 1/time where that is whole, else a usual rate (0.0416667 is 24, 0.0417083 is
 * 24000/1001), else a whole one, else 1/time to six digits.
 * @param frameTime seconds as written, for example ".0083333"
 */
export function rateOfFrameTime(frameTime: string): FrameRate {
  const time = Number(frameTime);
  if (Math.abs(Math.round(1 / time) * time - 1) < 1e-9) return whole(Math.round(1 / time));
  const [mantissa, exponent = "0"] = frameTime.toLowerCase().split("e");
  const decimals = (mantissa.split(".")[1] ?? "").length - Number(exponent);
  const digit = 10 ** -decimals;
  const slack = 5e-7 * time;
  const fits = (rate: number, over: number, under: number) =>
    1 / rate > time - under - slack && 1 / rate < time + over + slack;
  for (const over of [digit / 2, digit]) {
    const rate = usual.find((candidate) => fits(ratio(candidate), over, digit / 2));
    if (rate !== undefined) return rate;
    const nearest = Math.round(1 / time);
    if (nearest > 0 && fits(nearest, over, digit / 2)) return whole(nearest);
  }
  return decimalRate(1 / time);
}

/** A rate given as a number, as the fraction it stands for: 23.976 is 24000/1001. */
export function rateOfNumber(rate: number): FrameRate {
  if (Number.isInteger(rate)) return whole(rate);
  const near = usual.find(
    (candidate) => Math.abs(ratio(candidate) / rate - 1) < 5e-5 && candidate.denominator > 1,
  );
  return near ?? decimalRate(rate);
}

function decimalRate(rate: number): FrameRate {
  return { numerator: Number((Math.round(rate * 1e6) / 1e6).toString()) || rate, denominator: 1 };
}

/** A rate as documents write it: a number, or a fraction such as "24000/1001". */
export function writtenRate(rate: FrameRate): number | string {
  return rate.denominator === 1 ? rate.numerator : `${rate.numerator}/${rate.denominator}`;
}
