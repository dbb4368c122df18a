import type { CameraSpec, DocumentHeader } from "../schema.ts";
import { readZoom } from "../zoom.ts";
import type { Report } from "./header.ts";
import { isNewer } from "./members.ts";

/** Reports cameras that cannot be as they are written, and what is wrong with the keys of their zoom. */
export function reportCameras(header: DocumentHeader, report: Report): void {
  header.cameras?.forEach((camera, index) => {
    const path = `cameras/${index}`;
    reportPicture(camera, path, report);
    for (const { code, message, path: within } of readZoom(camera).problems) {
      if (code !== "unknown-property" || !isNewer(header)) report(code, message, `${path}/zoom/${within}`);
    }
  });
}

function reportPicture(camera: CameraSpec, path: string, report: Report): void {
  const { verticalFieldOfView: angle, verticalExtent: extent, near, far } = camera;
  if (angle === undefined && extent === undefined) {
    const message =
      'This camera does not say what it sees; add "verticalFieldOfView" in degrees, or "verticalExtent" in units. It is not used.';
    report("missing-property", message, path);
  }
  if (angle !== undefined && extent !== undefined) {
    const message =
      'A camera has a "verticalFieldOfView" or a "verticalExtent"; take one out. The field of view counts.';
    report("two-projections", message, `${path}/verticalExtent`);
  }
  if (near !== undefined && far !== undefined && near >= far) {
    const message = `What is nearer than ${near} and what is farther than ${far} is not seen: that leaves nothing. Neither is used.`;
    report("near-beyond-far", message, `${path}/near`);
  }
}
