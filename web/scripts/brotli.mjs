// Compresses with brotli, and keeps what took long: the runtime takes minutes, but changes with its
// version alone.
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { brotliCompress, constants } from "node:zlib";

const kept = fileURLToPath(new URL("../../.cache/brotli", import.meta.url));

/** Returns the content compressed at brotli's best, from `kept` where it was done before. */
export async function compressed(content, mode = constants.BROTLI_MODE_GENERIC) {
  const name = createHash("sha256").update(`${mode} `).update(content).digest("hex");
  const path = join(kept, name);
  if (existsSync(path)) return readFileSync(path);
  const packed = await promisify(brotliCompress)(content, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
      [constants.BROTLI_PARAM_MODE]: mode,
      [constants.BROTLI_PARAM_LGWIN]: constants.BROTLI_MAX_WINDOW_BITS,
      [constants.BROTLI_PARAM_SIZE_HINT]: content.length,
    },
  });
  mkdirSync(kept, { recursive: true });
  writeFileSync(path, packed);
  return packed;
}
