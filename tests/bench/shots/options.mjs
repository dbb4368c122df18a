// @ts-check
/** What the command line of the bench may say. */
import { parseArgs } from "node:util";
import { developmentSeed, developmentShots } from "./seeds.mjs";

export const usage = `npm run bench:shots [-- OPTIONS]

  (no options)     the ${developmentShots} development shots, always the same
  --report         shots drawn from the commit: at least 400 faults and 10,000 clean frames
  --write          with --report: writes README.md and docs/shots-bench.md
  --seed TEXT      draws the shots from a text
  --shots N        N shots
  --check NAME     scores only faults that the check says (may be repeated)
  --body NAME      only shots with this body (may be repeated)
  --misses N       draws N missed or false cases into tests/bench/out
  --out FILE       writes all results: *.json as records, else the report
`;

/**
 * @typedef {object} Options
 * @property {boolean} help @property {boolean} report @property {boolean} write
 * @property {string | null} seed null: the commit's
 * @property {number | null} shots null: as many as a report needs
 * @property {string[]} checks none: all @property {string[]} bodies none: all
 * @property {number} misses @property {string | null} out
 */

/**
 * @param {string[]} args @param {readonly string[]} known names of all checks
 * @returns {Options}
 * @throws Error that says what is wrong with them
 */
export function optionsIn(args, known) {
  const { values } = parseArgs({
    args,
    options: {
      help: { type: "boolean", default: false },
      report: { type: "boolean", default: false },
      write: { type: "boolean", default: false },
      seed: { type: "string" },
      shots: { type: "string" },
      check: { type: "string", multiple: true, default: [] },
      body: { type: "string", multiple: true, default: [] },
      misses: { type: "string", default: "0" },
      out: { type: "string" },
    },
  });
  const { report, write } = values;
  const unknown = values.check.filter((name) => !known.includes(name));
  if (unknown.length > 0) throw new Error(`There is no check named ${unknown.join(", ")}.`);
  const isPart = values.shots !== undefined || values.check.length > 0 || values.body.length > 0;
  if (write && (!report || isPart))
    throw new Error("--write needs --report, of all shots, bodies and checks.");
  return {
    help: values.help,
    report,
    write,
    seed: values.seed ?? (report ? null : developmentSeed),
    shots: values.shots === undefined ? (report ? null : developmentShots) : whole("--shots", values.shots),
    checks: values.check,
    bodies: values.body,
    misses: whole("--misses", values.misses),
    out: values.out ?? null,
  };
}

/** @param {string} name @param {string} text */
function whole(name, text) {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 0)
    throw new Error(`${name} takes a whole number, not "${text}".`);
  return number;
}
