/** A file's name as a URI reference (RFC 3986), for reports and links of pages: relative names stay relative. */
export function uriReference(file: string): string {
  const forward = file.replaceAll("\\", "/");
  if (forward.startsWith("/")) return `file://${encoded(forward)}`;
  if (/^[A-Za-z]:\//.test(forward)) return `file:///${encoded(forward)}`;
  const uri = encoded(forward);
  // A colon in the first part of a relative reference would be read as a scheme (RFC 3986, 4.2).
  return /^[^/]*:/.test(uri) ? `./${uri}` : uri;
}

function encoded(path: string): string {
  return path.split("/").map(encodePart).join("/");
}

function encodePart(part: string): string {
  return encodeURIComponent(part.replace(/\p{Cs}/gu, "\ufffd")).replaceAll("%3A", ":");
}
