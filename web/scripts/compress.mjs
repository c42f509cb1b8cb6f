// Writes a brotli copy beside every text file of the build and every file of the engine's pack,
// for a server that only sends them, and refuses a shell or a pack heavier than it may be.
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { brotliCompress, constants } from "node:zlib";

const dist = fileURLToPath(new URL("../dist", import.meta.url));
const TEXT = /\.(js|css|html|svg|json|webmanifest)$/;
const ENGINE = /^assets\/engine-[0-9a-f]+\/.*(?<!\.br)$/;
const MOST_SCRIPT_BYTES = 60 * 1024;
const MOST_ENGINE_BYTES = 4_000_000;
// One step below brotli's best: a third of its time on the runtime, for 3 % more bytes.
const ENGINE_QUALITY = 10;
// The runtime takes most of a minute, but once: it changes with its version alone.
const kept = fileURLToPath(new URL("../../.cache/brotli", import.meta.url));

/** Returns the content compressed, from `kept` where it was done before. */
async function compressed(content, mode, quality) {
  const name = createHash("sha256").update(`${mode} ${quality} `).update(content).digest("hex");
  const path = join(kept, name);
  if (existsSync(path)) return readFileSync(path);
  const packed = await promisify(brotliCompress)(content, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: quality,
      [constants.BROTLI_PARAM_MODE]: mode,
      [constants.BROTLI_PARAM_LGWIN]: constants.BROTLI_MAX_WINDOW_BITS,
      [constants.BROTLI_PARAM_SIZE_HINT]: content.length,
    },
  });
  mkdirSync(kept, { recursive: true });
  writeFileSync(path, packed);
  return packed;
}

const names = readdirSync(dist, { recursive: true }).filter(
  (name) => (TEXT.test(name) || ENGINE.test(name)) && statSync(join(dist, name)).isFile(),
);
const sizes = await Promise.all(
  names.map(async (name) => {
    const content = readFileSync(join(dist, name));
    const packed = ENGINE.test(name)
      ? await compressed(content, constants.BROTLI_MODE_GENERIC, ENGINE_QUALITY)
      : await compressed(content, constants.BROTLI_MODE_TEXT, constants.BROTLI_MAX_QUALITY);
    writeFileSync(join(dist, `${name}.br`), packed);
    return { name, bytes: packed.length };
  }),
);
const sum = (files) => files.reduce((total, { bytes }) => total + bytes, 0);

// The service worker comes after the page and holds nothing that the page waits for.
const script = sizes.filter(({ name }) => name.endsWith(".js") && name !== "sw.js");
if (script.length === 0) throw new Error("The build holds no JavaScript: look at vite's output.");
const scriptBytes = sum(script);
process.stdout.write(`JavaScript, brotli: ${(scriptBytes / 1024).toFixed(1)} KB\n`);
if (scriptBytes > MOST_SCRIPT_BYTES) {
  throw new Error(
    `The shell may weigh ${MOST_SCRIPT_BYTES / 1024} KB of JavaScript (brotli); it weighs ` +
      `${(scriptBytes / 1024).toFixed(1)} KB. Load something later, or leave it out.`,
  );
}

const engineBytes = sum(sizes.filter(({ name }) => ENGINE.test(name)));
if (engineBytes === 0) throw new Error("The build holds no engine: run scripts/engine_pack.py.");
process.stdout.write(`Engine pack, brotli: ${(engineBytes / 1e6).toFixed(2)} MB\n`);
if (engineBytes > MOST_ENGINE_BYTES) {
  throw new Error(
    `The engine's pack may weigh ${MOST_ENGINE_BYTES / 1e6} MB (brotli); it weighs ` +
      `${(engineBytes / 1e6).toFixed(2)} MB. See what the engine imports anew.`,
  );
}
