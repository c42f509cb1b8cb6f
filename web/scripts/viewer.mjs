// Puts the viewer of the API's document beside the built page: its own files, from its package.
// No phone keeps them, and no page of ours loads them but /docs.
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const from = fileURLToPath(new URL("../node_modules/swagger-ui-dist", import.meta.url));
const to = fileURLToPath(new URL("../dist/docs", import.meta.url));
const SCRIPT = { "swagger-ui-bundle.js": "viewer.js", "swagger-ui.css": "viewer.css" };

mkdirSync(to, { recursive: true });
for (const [theirs, ours] of Object.entries(SCRIPT)) {
  // The maps are not served, so a browser's tools would ask for them in vain.
  const text = readFileSync(join(from, theirs), "utf8");
  writeFileSync(join(to, ours), text.replace(/(\/\/|\/\*)# sourceMappingURL=.*$/m, ""));
}
for (const name of ["LICENSE", "NOTICE"]) {
  copyFileSync(join(from, name), join(to, `viewer-${name.toLowerCase()}.txt`));
}
copyFileSync(join(from, "swagger-ui-bundle.js.LICENSE.txt"), join(to, "viewer.js.LICENSE.txt"));
