import type { DocumentHeader } from "../schema.ts";
import { reportCameras } from "./cameras.ts";
import { reportFrames } from "./frames.ts";
import type { Report } from "./header.ts";
import { reportReferences } from "./references.ts";
import { reportScene } from "./scene.ts";

/** Reports what a header says that fits the schema and yet cannot be. */
export function reportRelations(header: DocumentHeader, report: Report): void {
  reportReferences(header, report);
  reportFrames(header, report);
  reportScene(header, report);
  reportCameras(header, report);
}
