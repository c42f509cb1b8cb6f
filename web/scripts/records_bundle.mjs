// Bundles the page's own records for a bare page, so that tests/faults can drive them with no screen
// between: what is written, killed and read again is the code that ships.
import { fileURLToPath } from "node:url";
import { build } from "vite";

const records = fileURLToPath(new URL("../src/records/", import.meta.url));

await build({
  configFile: false,
  logLevel: "error",
  build: {
    outDir: process.argv[2],
    target: "es2022",
    lib: {
      entry: { read: `${records}read.ts`, write: `${records}write.ts` },
      formats: ["es"],
      fileName: (_format, name) => `${name}.js`,
    },
  },
});
