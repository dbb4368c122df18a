// @ts-check
/**
 * Writes the home of a new fault: `npm run new-check FAMILY NAME`.
 *
 * `packages/core/faults/FAMILY/NAME` gets `check.ts`, `fix.ts` and `examples.ts`, to be filled in; the lists of names,
 * faults and examples get a line each. Nothing that is there is written over.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const faults = fileURLToPath(new URL("core/faults/", import.meta.url));
const families = ["spacing", "paths", "weight", "parts", "props", "staging", "data"];

/** @param {string} message @returns {never} */
function refuse(message) {
  console.error(
    `${message}\nUsage: npm run new-check FAMILY NAME, for example: npm run new-check spacing late-settle`,
  );
  process.exit(2);
}

const [family = "", name = "", ...more] = process.argv.slice(2);
if (family === "" || name === "" || more.length > 0) refuse("A family and a name are needed.");
if (!families.includes(family))
  refuse(`There is no family "${family}". Families are ${families.join(", ")}.`);
if (!/^[a-z]+(-[a-z]+)*$/.test(name))
  refuse(`"${name}" is no name: small letters, with hyphens between words.`);

const folder = join(faults, family, name);
if (existsSync(folder)) refuse(`packages/core/faults/${family}/${name} is there already.`);
const words = name.split("-");
const camel = words.map((word, i) => (i === 0 ? word : word[0].toUpperCase() + word.slice(1))).join("");
const pascal = camel[0].toUpperCase() + camel.slice(1);
const title = words.join(" ").replace(/^./, (letter) => letter.toUpperCase());

const check = `import type { Finding } from "../../check.ts";
import { defineCheck } from "../../check.ts";

/** With numbers in working units. */
export interface ${pascal}Finding extends Finding {
  readonly numbers: { readonly late: number };
}

const settings = {
  late: {
    default: 1,
    unit: "frames",
    what: "FILL IN: what is over the threshold, in plain words",
    source: "FILL IN: a published figure, or \\"common practice: \\" and which practice",
    min: 0,
  },
} as const;

/** FILL IN: what it finds, one line. */
export const ${camel} = defineCheck({
  name: "${name}",
  title: "${title}",
  family: "${family}",
  scope: "node",
  ceiling: "minor",
  ripening: "it is new: no bench has a row for it yet",
  what: "FILL IN: what it finds, one sentence.",
  why: "FILL IN: why a viewer does not believe it.",
  computes: "FILL IN: what is computed, precisely enough to be done again by hand.",
  fix: "FILL IN: the smallest change that usually fixes it.",
  notAFault: ["FILL IN: what it does not complain about"],
  limits: ["FILL IN: where it errs"],
  sources: [],
  since: "0.1.0",
  settings,
  find: (_study, _node, _values): ${pascal}Finding[] => [],
  word: ({ numbers }, words) => ({
    message: \`\${words.part} FILL IN \${words.frames(numbers.late)}\`,
    suggestion: "FILL IN",
  }),
});
`;

const fix = `import { defineFix } from "../../fix.ts";
import { ${camel} } from "./check.ts";

export const ${camel}Fix = defineFix(${camel}, {
  what: "FILL IN: what it does to the keys.",
  title: ({ node, frames }) => \`FILL IN for \${node ?? "the part"} at frame \${frames[0]}\`,
  propose: function* () {
    // FILL IN: yield lists of key edits, the smallest change first; \`proving.ts\` tries them.
  },
});
`;

const examples = `import { defineExamples } from "../../shared/examples/example.ts";
import { pathDocument } from "../../shared/examples/motions.ts";
import { ${camel} } from "./check.ts";

export const ${camel}Examples = defineExamples(${camel}, {
  faulty: [
    {
      title: "FILL IN: a small motion with the fault",
      motion: () => pathDocument(1, 48, (frame) => [0.02 * frame, 0, 0]),
      right: () => pathDocument(1, 48, (frame) => [0.02 * frame, 0, 0]),
      note: { node: "point", frames: [1, 48], key: { node: "point", channel: "translation.x" }, measured: 1 },
    },
  ],
  silent: [
    { title: "FILL IN: each thing that is not a fault", motion: () => pathDocument(1, 48, () => [0, 0, 0]) },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "FILL IN",
    frames: [1, 1],
    slip: "FILL IN: what was done in a demo shot, as one would say it in a review",
  },
  picture: { draws: "path", node: "point", seen: "front" },
});
`;

/**
 * Lists that get a line: a file, and what each edit puts before the first place where its mark stands.
 * @type {[file: string, edits: [mark: RegExp, line: string][]][]}
 */
const lists = [
  ["names.ts", [[namesEnd(), `  "${name}",\n`]]],
  [
    "registry.ts",
    [
      [
        /import type \{ Fix \}/,
        `import { ${camel} } from "./${family}/${name}/check.ts";\nimport { ${camel}Fix } from "./${family}/${name}/fix.ts";\n`,
      ],
      [/\};\n\n\/\*\* All checks, by family/, `  "${name}": [${camel}, ${camel}Fix],\n`],
    ],
  ],
  [
    "examples.ts",
    [
      [
        /import type \{ CheckName \}/,
        `import { ${camel}Examples } from "./${family}/${name}/examples.ts";\n`,
      ],
      [/\};\n\n\/\*\*\n \* The text of a demo shot/, `  "${name}": ${camel}Examples,\n`],
    ],
  ],
];

/** Where a family's names end: before the comment of the next family, or the end of the list. */
function namesEnd() {
  const next = {
    spacing: "  // paths\n",
    paths: "  // weight and support\n",
    weight: "  // parts against each other\n",
    parts: "  // props\n",
    props: "  // curves and data\n",
    staging: "  // curves and data\n",
    data: "] as const;",
  }[/** @type {"data"} */ (family)];
  return new RegExp(next.replace(/[[\]]/g, "\\$&"));
}

const changed = lists.map(([file, edits]) => {
  let text = readFileSync(join(faults, file), "utf8");
  for (const [mark, line] of edits) {
    const at = text.search(mark);
    if (at < 0)
      refuse(`packages/core/faults/${file} is not as it was: ${mark} is not in it. Nothing was written.`);
    text = text.slice(0, at) + line + text.slice(at);
  }
  return /** @type {const} */ ([file, text]);
});
mkdirSync(folder, { recursive: true });
for (const [file, text] of [
  ["check.ts", check],
  ["fix.ts", fix],
  ["examples.ts", examples],
]) {
  writeFileSync(join(folder, file), text, { flag: "wx" });
}
for (const [file, text] of changed) writeFileSync(join(faults, file), text);

console.log(`packages/core/faults/${family}/${name}
  check.ts     what it finds, with its words and its numbers
  fix.ts       what an animator would do about it
  examples.ts  how it looks: motions with it and without, a slip in a demo shot, a picture

Fill in what says FILL IN, then:
  npx vitest run tests/core/faults/examples.test.ts -t ${name}
  npm run docs && npm run format && npm test
It is ripening: it runs where a configuration or --only names it. A row in a bench makes it a check like the others.`);
