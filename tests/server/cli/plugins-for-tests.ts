/** The text of a check that somebody else has written: it notes the first two frames of every node. */
export function foreignCheck(changes: Readonly<Record<string, string>> = {}): string {
  const members: Record<string, string> = {
    name: '"always"',
    title: '"Always"',
    family: '"data"',
    scope: '"node"',
    ceiling: '"major"',
    what: '"Finds whatever there is."',
    why: '"For tests."',
    computes: '"Nothing."',
    fix: '"Nothing."',
    notAFault: "[]",
    limits: "[]",
    sources: '["common practice of tests"]',
    since: '"1.0.0"',
    settings: '{ size: { default: 2, unit: "m", what: "how large", source: "for tests", min: 0, max: 9 } }',
    find: `(study, node, { size }) => [{
      node, figure: -1, from: 0, to: 1,
      measured: { quantity: "size", value: size, unit: "m" },
      expected: { max: 1, unit: "m", source: "for tests" },
      excess: size, size, fault: null,
    }]`,
    word: `({ measured }, words) => ({ message: \`\${words.part} is \${measured.value} m\`, suggestion: "nothing" })`,
    ...changes,
  };
  const written = Object.entries(members).filter(([, value]) => value !== "");
  return `{ ${written.map(([name, value]) => `${name}: ${value}`).join(",\n")} }`;
}

/** The text of a module that adds checks. */
export function pluginText(...checks: readonly string[]): string {
  return `export default () => ({ checks: [${checks.join(", ")}] });\n`;
}

/** An adapter as code, with some members as code instead. */
export function foreignAdapter(others: Readonly<Record<string, string>> = {}): string {
  const members = {
    name: '"odd"',
    title: '"Odd"',
    endings: '[".odd"]',
    detect: "() => false",
    read: "() => ({ shot: null, problems: [] })",
    cannotCarry: "[]",
    ...others,
  };
  const written = Object.entries(members).map(([name, code]) => `${name}: ${code}`);
  return `{ ${written.join(", ")} }`;
}
