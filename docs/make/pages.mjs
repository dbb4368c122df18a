/** The pages of docs/checks and the messages of the host channel, made from what the code says of itself. */
import { families, registry, styleNames, tiers } from "@keyside/core";
import {
  changeOf,
  changeWords,
  fixNamed,
  kindOf,
  mostStrengths,
  sentence,
  strengthKinds,
  styleChanges,
  styles,
  units,
} from "@keyside/core/internal";
import { hostReference } from "@keyside/server";
import { provocations } from "../../demo/provocations/index.mjs";
import { pictureOf } from "./pictures/index.mjs";

const familyTitles = {
  spacing: "Spacing and timing",
  paths: "Paths",
  weight: "Weight and support",
  parts: "Parts against each other",
  props: "Props",
  staging: "Staging",
  data: "Curves and data",
};

/** @returns {Map<string, string>} text of every generated file by its path under docs/ */
export function generatedDocs() {
  const files = new Map([
    ["checks/README.md", index()],
    ["host-messages.md", hostReference()],
    ["strengths.md", strengthsPage()],
    ["styles.md", stylesPage()],
  ]);
  for (const check of registry) {
    files.set(`checks/${check.name}.md`, page(check));
    files.set(`checks/pictures/${check.name}.svg`, pictureOf(check));
  }
  return files;
}

/** The styles that there are: what each changes, and why. */
function stylesPage() {
  const tables = styleNames.flatMap((name) => {
    const rows = registry.flatMap((check) => {
      const change = changeOf(check, name);
      if (change === undefined) return [];
      return [
        `| [${check.name}](checks/${check.name}.md) | ${changeWords(check, change)} | ${cell(change.why)} |`,
      ];
    });
    const head =
      rows.length === 0
        ? ["It changes nothing: the defaults are its own."]
        : ["| check | becomes | why |", "| --- | --- | --- |"];
    return [`## ${name}`, "", styles[name].what, "", ...head, ...rows, ""];
  });
  return `${[
    "# Styles",
    "",
    "A style moves the thresholds of several checks together, and says of each why. It is chosen by, in this order:",
    "",
    "1. `--style NAME` for one run;",
    '2. `"style"` in the [configuration](command.md#configuration);',
    '3. `"style"` of the shot in the [document](document.md).',
    "",
    "`keyside config FILE` shows what is in force, from which style it comes and why; `keyside explain CHECK` what styles do to a check. The factors are our choice, not measured: a starting point that a show sets for itself.",
    "",
    "## A style of your own",
    "",
    "A configuration writes styles by name. Each extends another one (`full` if left out), and changes checks as `checks` does; beside each change stands why.",
    "",
    "```json",
    JSON.stringify(
      {
        style: "paper-show",
        styles: {
          "paper-show": {
            extends: "limited",
            what: "Cut-out figures on paper: few drawings, big poses.",
            checks: {
              twinning: { on: false, why: "Paper arms are cut as a pair." },
              "over-speed": { body: "15 m/s", why: "Figures are pulled out of the picture." },
            },
          },
        },
      },
      null,
      2,
    ),
    "```",
    "",
    "`--style paper-show` and the document of a shot can name it too. What the configuration's own `checks` choose goes before the style. A name is small letters with hyphens, and none of those below. A style that is not there, or that extends itself by others, is an error that names the nearest name or the circle. [`keyside calibrate`](calibrate.md) proposes a style from approved shots.",
    "",
    "This page is written by `npm run docs`.",
    "",
    ...tables,
  ]
    .join("\n")
    .trimEnd()}\n`;
}

/** What holds: its kinds, and when each is told. */
function strengthsPage() {
  const kinds = strengthKinds.flatMap(({ name, title, what, computes, canFail, sources, hangsOn = [] }) => [
    `## ${title}`,
    "",
    `\`${name}\`: ${what}`,
    "",
    computes,
    "",
    `**What could have failed:** ${canFail}`,
    "",
    ...hangsLine(hangsOn),
    ...sources.map((source) => `- ${sentence(source)}`),
    "",
  ]);
  return `${[
    "# What holds",
    "",
    `A review also says what is good, so that it is kept. \`keyside check --strengths\`, [the review sheet](sheet.md) and its player tell at most ${mostStrengths} things of a shot that convince, each with its figure, part, frames and number:`,
    "",
    "```",
    "keyside check shots/quay_0070.curves.json --strengths",
    "```",
    "",
    "- **Never where a major note stands.** A major note, waived or not, takes its frames from the part on which it shows, from all that this part carries and from what carries it. A minor note takes them from the part itself, and a cut between poses from all that it switches.",
    "- **Never what cannot fail.** A foot under hips that keep still, or an arm of which one joint turns, is not praised.",
    "- **What carries most of the picture comes first**: its size in body heights, times the root of its seconds, times the weight of the part, as [notes are ordered](reports.md#the-order-of-notes).",
    "- **Spread over kinds and parts.** Two at most are of one kind. Of left and right at the same time one is told. A second one of a kind counts 35 %, one on a part that is told already a half.",
    "- **Nothing that hangs on a guess**: where it is a guess which joint is which, or how long a unit is, what needs it is left out.",
    "",
    "Nothing here is a score, and a shot of which nothing is told need not be weak. Poses on twos are left out by all kinds that look at spacing.",
    "",
    "This page is written by `npm run docs`.",
    "",
    ...kinds,
  ]
    .join("\n")
    .trimEnd()}\n`;
}

function hangsLine(hangsOn) {
  const what = { unit: "the length of a unit", body: "which joint is which part of the body" };
  if (hangsOn.length === 0) return [];
  const all = hangsOn.map((one) => what[one]).join(" and ");
  return [`It hangs on ${all}: where that is [a guess](bodies.md), it is not told.`, ""];
}

function index() {
  const lines = [
    "# The checks",
    "",
    `Each check finds one kind of fault and names the keys that cause it. Its page says what it computes, with which numbers, and where it errs; \`keyside explain NAME\` prints the same. How well they find what was put in on purpose stands in [fault bench](../fault-bench.md). \`node demo/provoke.mjs NAME\` makes a check speak in [a demo shot](../../demo/README.md#each-check-provoked-and-silenced), and silences it.`,
    "",
    "These pages are written by `npm run docs`.",
  ];
  for (const family of families) {
    const checks = registry.filter((check) => check.family === family);
    if (checks.length === 0) continue;
    lines.push("", `## ${familyTitles[family]}`, "", "| check | finds |", "| --- | --- |");
    for (const { name, what } of checks) lines.push(`| [${name}](${name}.md) | ${cell(what)} |`);
  }
  return `${lines.join("\n")}\n`;
}

function page(check) {
  const {
    name,
    title,
    family,
    ceiling,
    what,
    why,
    computes,
    fix,
    notAFault,
    limits,
    sources,
    since,
    settings,
  } = check;
  const listed = (heading, items) =>
    items.length === 0 ? [] : [`## ${heading}`, "", ...items.map((item) => `- ${sentence(item)}`), ""];
  const numbers = Object.entries(settings);
  return [
    `# ${title}`,
    "",
    `\`${name}\` · ${familyTitles[family]} · ${tiersUpTo(ceiling)}${stageOf(check)} · since ${since}`,
    "",
    what,
    "",
    ...(check.ripening === undefined
      ? []
      : [
          `It ripens: it runs only where a configuration or \`--only\` names it. ${sentence(check.ripening)}`,
          "",
        ]),
    `![${title}: the fault on the left, fixed on the right](pictures/${name}.svg)`,
    "",
    ...demoLines(name),
    "## Why it matters",
    "",
    why,
    "",
    "## What is computed",
    "",
    computes,
    "",
    ...(numbers.length === 0
      ? []
      : ["## Numbers", "", ...settingsTable(numbers), "", example(name, numbers), ""]),
    ...listed("Not a fault", notAFault),
    ...listed("Limits", limits),
    ...listed("Styles", styleChanges(check)),
    "## Fix",
    "",
    sentence(fix),
    "",
    ...fixLines(name),
    ...yieldLines(check),
    ...hangsLines(check),
    ...listed("Sources", sources),
    "[All checks](README.md)",
    "",
  ].join("\n");
}

function demoLines(name) {
  const provocation = provocations.find(({ check }) => check === name);
  if (provocation === undefined) return [];
  return [
    `To see it in a shot: \`node demo/provoke.mjs ${name}\` ([demo](../../demo/README.md#each-check-provoked-and-silenced), ${provocation.shot}): ${provocation.slip}.`,
    "",
  ];
}

/** What its notes hang on, where that may be a guess. */
function hangsLines({ hangsOn = [] }) {
  if (hangsOn.length === 0) return [];
  const what = { unit: "the length of a unit", body: "which joint is which part of the body" };
  return [
    `It hangs on ${hangsOn.map((one) => what[one]).join(" and ")}: where that is [a guess](../bodies.md), its notes are polish.`,
    "",
  ];
}

function stageOf({ notBefore }) {
  return notBefore === undefined ? "" : ` · [from ${notBefore} on](../command.md#stages-of-work)`;
}

function tiersUpTo(ceiling) {
  return ceiling === tiers[tiers.length - 1] ? ceiling : `up to ${ceiling}`;
}

function settingsTable(numbers) {
  return [
    "| setting | default | what | source |",
    "| --- | --- | --- | --- |",
    ...numbers.map(([name, { default: value, unit, what, source }]) => {
      const written = kindOf(unit) === "number" ? String(value) : `${value} ${unit}`;
      return `| \`${name}\` | ${written} (${units[unit].words}) | ${cell(sentence(what))} | ${cell(sentence(source))} |`;
    }),
  ];
}

function example(name, numbers) {
  const [setting, { default: value }] = numbers[0];
  return `To set one in \`keyside.config.json\`: \`{ "checks": { "${name}": { "${setting}": ${value} } } }\`, or \`"${name}": false\` to turn the check off; for one run, \`--set ${name}.${setting}=${value}\`, or \`--skip ${name}\`.`;
}

function fixLines(name) {
  const fix = fixNamed(name);
  if (fix === undefined) return [];
  return [
    `[\`keyside fix\`](../fixes.md) does it where it can prove that the note goes and no other as heavy comes. ${sentence(fix.what)}`,
    "",
  ];
}

function yieldLines({ yieldsTo = [] }) {
  if (yieldsTo.length === 0) return [];
  const names = yieldsTo.map((name) =>
    registry.some((check) => check.name === name) ? `[${name}](${name}.md)` : name,
  );
  return [
    `Where one of these says it already, this check is silent: ${names.join(", ")}; also where that one is silenced on purpose.`,
    "",
  ];
}

/** Text that can stand in a table's cell. */
function cell(text) {
  return text.replace(/\|/g, "\\|");
}
