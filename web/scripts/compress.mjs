// Writes a brotli copy beside every text file of the build, for a server that only sends them, and
// refuses a shell heavier than it may be.
import { readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { constants } from "node:zlib";
import { compressed } from "./brotli.mjs";

const dist = fileURLToPath(new URL("../dist", import.meta.url));
const TEXT = /\.(js|css|html|svg|json|webmanifest)$/;
// The engine's files come compressed: scripts/compress_engine.mjs.
const ENGINE = /^assets\/engine-[0-9a-f]+\//;
const MOST_SCRIPT_BYTES = 60 * 1024;

const names = readdirSync(dist, { recursive: true }).filter(
  (name) => TEXT.test(name) && !ENGINE.test(name) && statSync(join(dist, name)).isFile(),
);
const sizes = await Promise.all(
  names.map(async (name) => {
    const packed = await compressed(readFileSync(join(dist, name)), constants.BROTLI_MODE_TEXT);
    writeFileSync(join(dist, `${name}.br`), packed);
    return { name, bytes: packed.length };
  }),
);

// The shell is what the first paint waits for: the scripts that the page itself names. The service
// worker, and the screens that are loaded when they are first shown, come after it.
const index = readFileSync(join(dist, "index.html"), "utf8");
const named = [
  ...index.matchAll(/<(?:script|link rel="modulepreload")[^>]*?(?:src|href)="\/([^"]+)"/g),
];
const shell = new Set(named.map(([, name]) => name));
const script = sizes.filter(({ name }) => shell.has(name));
if (script.length === 0) throw new Error("The page names no JavaScript: look at vite's output.");
const script_bytes = script.reduce((total, { bytes }) => total + bytes, 0);
process.stdout.write(`JavaScript, brotli: ${(script_bytes / 1024).toFixed(1)} KB\n`);
if (script_bytes > MOST_SCRIPT_BYTES) {
  throw new Error(
    `The shell may weigh ${MOST_SCRIPT_BYTES / 1024} KB of JavaScript (brotli); it weighs ` +
      `${(script_bytes / 1024).toFixed(1)} KB. Load something later, or leave it out.`,
  );
}
