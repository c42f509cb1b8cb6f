// Writes a brotli copy beside every text file of the build, for a server that only sends them,
// and refuses a shell heavier than it may be.
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, constants } from "node:zlib";

const dist = fileURLToPath(new URL("../dist", import.meta.url));
const TEXT = /\.(js|css|html|svg|json|webmanifest)$/;
const MOST_SCRIPT_BYTES = 60 * 1024;

const sizes = [];
for (const name of readdirSync(dist, { recursive: true })) {
  const path = join(dist, name);
  if (!TEXT.test(name) || !statSync(path).isFile()) continue;
  const text = readFileSync(path);
  const packed = brotliCompressSync(text, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
      [constants.BROTLI_PARAM_MODE]: constants.BROTLI_MODE_TEXT,
      [constants.BROTLI_PARAM_SIZE_HINT]: text.length,
    },
  });
  writeFileSync(`${path}.br`, packed);
  sizes.push({ name: relative(dist, path), bytes: packed.length });
}

const script = sizes.filter(({ name }) => name.endsWith(".js"));
if (script.length === 0) throw new Error("The build holds no JavaScript: look at vite's output.");
const scriptBytes = script.reduce((sum, { bytes }) => sum + bytes, 0);
process.stdout.write(`JavaScript, brotli: ${(scriptBytes / 1024).toFixed(1)} KB\n`);
if (scriptBytes > MOST_SCRIPT_BYTES) {
  throw new Error(
    `The shell may weigh ${MOST_SCRIPT_BYTES / 1024} KB of JavaScript (brotli); it weighs ` +
      `${(scriptBytes / 1024).toFixed(1)} KB. Load something later, or leave it out.`,
  );
}
